using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.Isolation;

namespace Companion.Sheets.Rehearsals;

/// <summary>A rehearsal: who says what and when, what the tester shows, what goes wrong, and how it must end.</summary>
public sealed record RehearsalScript
{
    /// <summary>Its name.</summary>
    public required string Name { get; init; }

    /// <summary>What it shows, in a sentence.</summary>
    public required string About { get; init; }

    /// <summary>The number of the sheet that is chosen.</summary>
    public required int Sheet { get; init; }

    /// <summary>True when the job begins with the arrival list; otherwise it begins at the sheet.</summary>
    public bool Arrival { get; init; }

    /// <summary>True when somebody watches over the technician, who must check in.</summary>
    public bool Watch { get; init; }

    /// <summary>The kit file's name without ending.</summary>
    public required string Kit { get; init; }

    /// <summary>Crew id of the technician.</summary>
    public required string Technician { get; init; }

    /// <summary>Crew id of the second person; null when alone.</summary>
    public string? SecondPerson { get; init; }

    /// <summary>The policy for exposing steps.</summary>
    public ExposurePolicy Policy { get; init; }

    /// <summary>The synthetic speaker: "espeak:VOICE" or "flite:VOICE"; one that was not in the ear's training data.</summary>
    public required string Speaker { get; init; }

    /// <summary>Rate of speech in words a minute.</summary>
    public int Rate { get; init; } = 150;

    /// <summary>Seed of the codes.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>What the tester shows, by pair id and "source"; "below" before the number for "below N".</summary>
    public required ImmutableDictionary<string, string> Readings { get; init; }

    /// <summary>The lines, in order.</summary>
    public required ImmutableArray<ScriptLine> Lines { get; init; }

    /// <summary>The question that is open at the end, or Nothing for an ended job.</summary>
    public required NeedKind End { get; init; }

    /// <summary>Event types and how often each must have been recorded.</summary>
    public required ImmutableDictionary<string, int> Counts { get; init; }
}

/// <summary>One line of a rehearsal.</summary>
/// <param name="Kind">What it does.</param>
/// <param name="Text">The words, the phrase or the question kind.</param>
/// <param name="Step">The step at which to stop following; null for the first question of the kind.</param>
/// <param name="Seconds">A length of time.</param>
/// <param name="Refusal">Words that a refusal must contain that this line leads to; null when it must lead to none.</param>
/// <param name="Readings">What the tester shows from here on.</param>
public sealed record ScriptLine(
    LineKind Kind, string Text, string? Step, int Seconds, string? Refusal, ImmutableDictionary<string, string> Readings);

/// <summary>Kinds of line.</summary>
public enum LineKind
{
    /// <summary>Answer every question rightly, by voice, until this kind of question is open.</summary>
    Follow,

    /// <summary>Say the words; {code} stands for the code that was asked.</summary>
    Say,

    /// <summary>Hold the button for the phrase.</summary>
    Hold,

    /// <summary>Let seconds pass.</summary>
    Pass,

    /// <summary>The tablet sleeps.</summary>
    Sleep,

    /// <summary>The process is killed and started again after seconds.</summary>
    Restart,

    /// <summary>The tester shows other figures from here on.</summary>
    Readings,
}
