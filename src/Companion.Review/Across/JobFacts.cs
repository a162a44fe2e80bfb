using System.Collections.Immutable;

namespace Companion.Review.Across;

/// <summary>What is counted of one job: nothing personal, so that it may be kept in memory. Immutable.</summary>
/// <param name="Name">Which record.</param>
/// <param name="Rehearsal">True when it was a rehearsal.</param>
/// <param name="Opened">When it began, by the tablet's wall clock.</param>
/// <param name="Seconds">How long the record is.</param>
/// <param name="Technician">Crew number.</param>
/// <param name="Sheet">The sheet's id and edition; empty when none was pinned.</param>
public sealed record JobFacts(RecordName Name, bool Rehearsal, DateTimeOffset Opened, long Seconds, string Technician, string Sheet)
{
    /// <summary>How long each question stood open, in milliseconds, added up over the job.</summary>
    public required ImmutableArray<StepTime> Steps { get; init; }

    /// <summary>Where the voice failed.</summary>
    public required ImmutableArray<VoiceCount> Voice { get; init; }

    /// <summary>Remarks by their kind.</summary>
    public required ImmutableArray<RemarkCount> Remarks { get; init; }

    /// <summary>Refusals in the whole job.</summary>
    public int Refusals => Voice.Sum(count => count.Refused);
}

/// <summary>How long a step took.</summary>
/// <param name="Step">The question and the step.</param>
/// <param name="Milliseconds">From the question to the next one about something else.</param>
public sealed record StepTime(string Step, long Milliseconds);

/// <summary>How often the voice failed at a step.</summary>
/// <param name="Step">The question and the step that were open.</param>
/// <param name="Unheard">Heard and not accepted.</param>
/// <param name="Refused">Refused by a rule.</param>
/// <param name="Corrected">Corrected by the person.</param>
public sealed record VoiceCount(string Step, int Unheard, int Refused, int Corrected)
{
    /// <summary>All together.</summary>
    public int All => Unheard + Refused + Corrected;
}

/// <summary>Remarks of one kind.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="Count">How many.</param>
public sealed record RemarkCount(Remarking.RemarkKind Kind, int Count);
