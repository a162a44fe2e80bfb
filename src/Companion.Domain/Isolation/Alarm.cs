namespace Companion.Domain.Isolation;

/// <summary>A warning that counts as given only when it was played to the end and the person answered.</summary>
/// <param name="At">Sequence of its raising.</param>
/// <param name="Kind">What it is about.</param>
/// <param name="Text">The words.</param>
public sealed record Alarm(long At, AlarmKind Kind, string Text);

/// <summary>What an alarm is about.</summary>
public enum AlarmKind
{
    /// <summary>A reading above its limit.</summary>
    Live,

    /// <summary>Waits and proofs are void.</summary>
    Void,

    /// <summary>Work is stopped.</summary>
    Stop,

    /// <summary>The technician asked for help.</summary>
    Help,
}
