using Companion.Domain;
using Companion.Domain.Events;
using Companion.Domain.Sheets;
using Companion.Review;

namespace Companion.Papers.Words;

/// <summary>Every wait as often as it began: what the sheet asks for, and what became of it.</summary>
internal static class WaitSection
{
    public static PaperSection Of(RecordEnd end) => new("Waits", [.. Rows(end)]);

    private static IEnumerable<PaperRow> Rows(RecordEnd end)
    {
        var entries = end.Record.Entries;
        for (var at = 0; at < entries.Length; at++)
        {
            if (entries[at].Happened is WaitStarted started)
            {
                var next = entries.Skip(at + 1).Where(entry => WaitOf(entry.Happened) == started.Wait).Take(2).ToList();
                yield return new PaperRow(
                    PaperText.Sentence(NameOf(end.Job?.Sheet, started)),
                    $"{PaperText.Number(started.Seconds)} s by the sheet, from {end.When(entries[at].Entry.Time)}. {Became(end, next)}");
            }
        }
    }

    /// <summary>A wait that is over can still become void.</summary>
    private static string Became(RecordEnd end, List<RecordedEntry> next) => next switch
    {
        [{ Happened: WaitCompleted } over, { Happened: WaitVoided voided } since] =>
            $"Over {end.When(over.Entry.Time)}, void since {end.When(since.Entry.Time)}: {PaperText.Stopped(voided.Reason)}",
        [{ Happened: WaitCompleted } over, ..] => $"Over {end.When(over.Entry.Time)}; that alone proves nothing.",
        [{ Happened: WaitVoided voided } since, ..] => $"Void {end.When(since.Entry.Time)}: {PaperText.Stopped(voided.Reason)}",
        _ => "Its end is not in this record.",
    };

    private static WaitId? WaitOf(JobEvent? happened) => happened switch
    {
        WaitStarted started => started.Wait,
        WaitCompleted completed => completed.Wait,
        WaitVoided voided => voided.Wait,
        _ => null,
    };

    private static string NameOf(Sheet? sheet, WaitStarted started) =>
        sheet?.Waits.FirstOrDefault(wait => wait.Id == started.Wait)?.Name ?? started.Wait.Value;
}
