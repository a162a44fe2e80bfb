using System.Collections.Immutable;

namespace Companion.Watchroom.Checking;

/// <summary>What the watch room can say of a paper that somebody holds.</summary>
/// <param name="Kind">In one word.</param>
/// <param name="Title">In one sentence.</param>
/// <param name="Lines">What it rests on, and what to do.</param>
/// <param name="Stated">The words of the code, to be held against the printed ones; empty when they are not to be believed.</param>
public sealed record PaperVerdict(VerdictKind Kind, string Title, ImmutableArray<string> Lines, ImmutableArray<string> Stated)
{
    /// <summary>A refusal: nothing more is told.</summary>
    public static PaperVerdict Refused(string reason) => new(VerdictKind.Refused, "This paper cannot be confirmed.", [reason], []);
}

/// <summary>The verdicts.</summary>
public enum VerdictKind
{
    /// <summary>The record that is held says the same, and nothing later has arrived.</summary>
    Fits,

    /// <summary>It says the same, and the job went on.</summary>
    Older,

    /// <summary>The signature fits; that part of the record has not arrived.</summary>
    NotHeld,

    /// <summary>The record that is held is damaged at that entry or before it: it neither confirms nor contradicts.</summary>
    Damaged,

    /// <summary>The record that is held says something else.</summary>
    Contradicted,

    /// <summary>It was signed by a tablet whose access was ended.</summary>
    Revoked,

    /// <summary>The code is none, is damaged or forged, or the digits fit nothing.</summary>
    Refused,
}
