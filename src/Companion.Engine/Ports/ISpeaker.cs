namespace Companion.Engine.Ports;

/// <summary>
/// Speaks prompts one at a time, the most urgent first, and keeps the ear shut meanwhile (half-duplex).
/// What became of each prompt comes back to the engine's inbox as a <see cref="PromptReceipt"/>.
/// </summary>
public interface ISpeaker
{
    /// <summary>Queues a prompt. A more urgent one cuts off a less urgent one, which is then spoken again or dropped by its kind.</summary>
    void Say(Prompt prompt);

    /// <summary>Drops the waiting questions and echoes with an id below this one: what they asked is settled. Statements and alarms stay.</summary>
    void DropStale(long beforePrompt);
}

/// <summary>Something to say.</summary>
/// <param name="Id">Rising number, unique within a run.</param>
/// <param name="Urgency">Which prompt goes first.</param>
/// <param name="Text">The words, in British spelling, digits already spelled out.</param>
/// <param name="Question">The sequence of the question it asks; 0 when it asks none.</param>
public sealed record Prompt(long Id, Urgency Urgency, string Text, long Question)
{
    /// <summary>What the record of it says instead of the words, when these hold personal data.</summary>
    public string? Written { get; init; }

    /// <summary>True for the sound check's prompt: whether the microphone hears the loudspeaker is found out with it.</summary>
    public bool IsSoundCheck { get; init; }
}

/// <summary>Urgency of a prompt, least first.</summary>
public enum Urgency
{
    /// <summary>"Five minutes", "one minute": stale after a moment.</summary>
    TimeCall,

    /// <summary>The next step or question, an echo.</summary>
    Step,

    /// <summary>Why something was refused.</summary>
    Refusal,

    /// <summary>Stop, live, void, overdue: cuts everything else off, spoken after an alarm tone.</summary>
    Alarm,
}

/// <summary>What became of a prompt.</summary>
/// <param name="Id">The prompt's id.</param>
/// <param name="PlayedToEnd">True only when all its sound was handed to the loudspeaker and drained.</param>
/// <param name="Reason">Why not, when not: "cut off", "stale", "no loudspeaker", "synthesiser failed".</param>
public sealed record PromptReceipt(long Id, bool PlayedToEnd, string? Reason);
