using System.Collections.Immutable;

namespace Companion.Papers.Words;

/// <summary>
/// A paper that leaves the scene, as words only: whoever draws it, on a page or in a PDF, adds nothing and leaves nothing out. It tells what a
/// record says and promises nothing beyond it. Immutable.
/// </summary>
public sealed record Paper
{
    /// <summary>Which paper it is.</summary>
    public required PaperKind Kind { get; init; }

    /// <summary>Its name, for the top of every page.</summary>
    public required string Title { get; init; }

    /// <summary>The job's id.</summary>
    public required string Job { get; init; }

    /// <summary>When it was made, by the clock of whoever made it.</summary>
    public required DateTimeOffset Made { get; init; }

    /// <summary>The time of the last entry that it tells of, by the tablet's clock; null when the record holds no entry.</summary>
    public required DateTimeOffset? AsOf { get; init; }

    /// <summary>True for a rehearsal: no vehicle was touched, and every page says so large.</summary>
    public required bool Rehearsal { get; init; }

    /// <summary>True when the record does not end with the end of the job: things may have changed since.</summary>
    public required bool StillOpen { get; init; }

    /// <summary>Sequence of the last entry that it tells of; 0 when the record holds none.</summary>
    public required long LastSequence { get; init; }

    /// <summary>Hash of that entry, by which the record can be found again; empty when there is none.</summary>
    public required string HeadHash { get; init; }

    /// <summary>How the vehicle stands, in one or two sentences: the largest words on the paper.</summary>
    public required string Standing { get; init; }

    /// <summary>What it tells, in order.</summary>
    public required ImmutableArray<PaperSection> Sections { get; init; }

    /// <summary>What goes before this paper, and what it does not say; at the end of it.</summary>
    public required ImmutableArray<string> Cautions { get; init; }

    /// <summary>The words over every page of a rehearsal.</summary>
    public const string RehearsalWords = "REHEARSAL: no vehicle was isolated";

    /// <summary>The words over every page of a paper whose job had not ended.</summary>
    public const string StillOpenWords = "Job still open";
}

/// <summary>The papers.</summary>
public enum PaperKind
{
    /// <summary>What the next person must know of the vehicle.</summary>
    HandOver,

    /// <summary>What was done, from the first entry to the last.</summary>
    JobReport,

    /// <summary>What hangs on the vehicle.</summary>
    Label,
}
