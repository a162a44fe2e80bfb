namespace Companion.Domain.Reacting;

/// <summary>Something for the ports to do, as data.</summary>
public abstract record Effect;

/// <summary>Say something.</summary>
/// <param name="Weight">How urgent it is.</param>
/// <param name="Text">The words.</param>
/// <param name="Question">Sequence of the question it asks; 0 when it asks none.</param>
public sealed record Say(Weight Weight, string Text, long Question) : Effect
{
    /// <summary>What the record of it says instead, when the words hold personal data.</summary>
    public string? Written { get; init; }
}

/// <summary>Urgency of something said, least first.</summary>
public enum Weight
{
    /// <summary>A time call.</summary>
    TimeCall,

    /// <summary>A step, a question, an echo.</summary>
    Step,

    /// <summary>A refusal.</summary>
    Refusal,

    /// <summary>An alarm.</summary>
    Alarm,
}
