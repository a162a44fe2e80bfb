using System.Collections.Immutable;
using Companion.Domain.Events;
using Companion.Domain.HandingOver;
using Companion.Domain.Isolation;

namespace Companion.Papers.Words;

/// <summary>What stays live, how the vehicle may be moved, and what else remains, in the words of the hand-over panel.</summary>
internal static class HazardSections
{
    private const string Live = "Stays live: ";
    private const string Moving = "Moving: ";

    /// <summary>The part that is seen first.</summary>
    public static PaperSection StaysLive(RecordEnd end) => new(
        "Stays live",
        [PaperRow.Of(end.Job?.Sheet is { } sheet
            ? PaperText.Stopped(PaperText.Sentence(sheet.StaysLive)) + " Opening every point does not change that."
            : "Not told, as there is no shutdown sheet: treat everything of the high-voltage system as live.")],
        PaperEmphasis.Warning);

    /// <summary>How it may be moved.</summary>
    public static PaperSection MovingIt(RecordEnd end) => new("Moving the vehicle", [PaperRow.Of(MovingWords(end.Job))], PaperEmphasis.Strong);

    /// <summary>How it may be moved, in words.</summary>
    public static string MovingWords(Job? job) => Lines(job).FirstOrDefault(line => line.StartsWith(Moving, StringComparison.Ordinal)) is { } line
        ? PaperText.Sentence(line[Moving.Length..])
        : job is not null && PuttingBack.IsComplete(job)
            ? "By the maker's method. The vehicle is live."
            : "Not told, as there is no shutdown sheet: do not move it before the maker's method was read.";

    /// <summary>What else remains.</summary>
    public static PaperSection Remains(RecordEnd end) => new("What remains", [.. RemainsOf(end)]);

    private static IEnumerable<PaperRow> RemainsOf(RecordEnd end)
    {
        foreach (var line in Lines(end.Job).Where(line => !line.StartsWith(Live, StringComparison.Ordinal) && !line.StartsWith(Moving, StringComparison.Ordinal)))
        {
            yield return PaperRow.Of(line);
        }

        if (end.Job is { Halt: { } halt, StandOff: null })
        {
            yield return PaperRow.Of($"Work was stopped: {PaperText.Stopped(halt.Reason)}");
        }

        if (end.Job is { PuttingBack: false, StandOff: null, CurrentStep: { } step })
        {
            yield return PaperRow.Of($"Not done of the sheet, first: {step.Say}");
        }

        foreach (var row in end.Job is { StandOff: not null } ? StandingOff(end) : [PaperRow.Of("Test again, by the maker's method and with your own tester, before anybody works on the vehicle.")])
        {
            yield return row;
        }
    }

    private static IEnumerable<PaperRow> StandingOff(RecordEnd end)
    {
        if (end.Record.Entries.LastOrDefault(entry => entry.Happened is TemperatureTaken) is { Happened: TemperatureTaken taken } entry)
        {
            yield return PaperRow.Of($"Last temperature of the pack, taken from outside: {PaperText.Degrees(taken.Tenths)} at {end.When(entry.Entry.Time)}.");
        }

        yield return PaperRow.Of("No temperature ends the stand-off, and nobody works on the vehicle before the fire service or the maker says how.");
    }

    private static ImmutableArray<string> Lines(Job? job) => job is null ? [] : HandOverSheet.Of(job).Hazards;
}
