using System.Collections.Immutable;
using Companion.Review;

namespace Companion.Papers.Words;

/// <summary>What every paper carries: where it comes from, how the vehicle stands, and what goes before it.</summary>
internal static class PaperFrame
{
    public static Paper Of(PaperKind kind, string title, RecordEnd end, DateTimeOffset made, IEnumerable<PaperSection> sections) => new()
    {
        Kind = kind,
        Title = title,
        Job = end.Record.Chain,
        Made = made,
        AsOf = end.Last?.Entry.Time,
        Rehearsal = end.Record.Rehearsal,
        StillOpen = end.Ending is null,
        LastSequence = end.Last?.Sequence ?? 0,
        HeadHash = end.Last?.Entry.Hash ?? string.Empty,
        Standing = StandingWords.Of(end, made),
        Sections = [.. sections.Where(section => !section.Rows.IsEmpty)],
        Cautions = [.. Cautions(end, made)],
    };

    private static IEnumerable<string> Cautions(RecordEnd end, DateTimeOffset made)
    {
        yield return "The maker's method, local rules and a competent person go before this paper. It was drawn from what a tablet recorded: claims of people, not measurements of its own.";
        if (end.Job is { Ended: false, Clearance: { } clearance } && !StandingWords.Lapsed(end, clearance, made))
        {
            yield return $"Clear to work lapses at {end.Time(clearance.DueWall)} at the latest, and at once after any disturbance, break, restart or change of technician, of which this paper cannot know.";
        }

        if (end.Last is { } last)
        {
            yield return $"Times are those of the tablet's clock, {PaperText.Offset(last.Entry.Time)}; where no day stands beside one, it is {PaperText.Day(last.Entry.Time)}."
                + (end.ClockWasSet ? " It was set while the job ran: times before and after do not compare." : string.Empty);
            yield return $"Entries after number {PaperText.Number(last.Sequence)}, if there are any, are not on this paper. The record itself can be checked; this paper alone proves nothing.";
        }
    }
}
