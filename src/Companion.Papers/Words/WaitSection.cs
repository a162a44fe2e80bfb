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
                var over = entries.Skip(at + 1).FirstOrDefault(entry => entry.Happened is WaitCompleted done && done.Wait == started.Wait
                    || entry.Happened is WaitVoided voided && voided.Wait == started.Wait
                    || entry.Happened is WaitStarted again && again.Wait == started.Wait);
                yield return new PaperRow(
                    PaperText.Sentence(NameOf(end.Job?.Sheet, started)),
                    $"{PaperText.Number(started.Seconds)} s by the sheet, from {end.When(entries[at].Entry.Time)}. {Became(end, over)}");
            }
        }
    }

    private static string Became(RecordEnd end, RecordedEntry? over) => over?.Happened switch
    {
        WaitCompleted => $"Over {end.When(over!.Entry.Time)}; that alone proves nothing.",
        WaitVoided voided => $"Void {end.When(over!.Entry.Time)}: {PaperText.Stopped(voided.Reason)}",
        _ => "Its end is not in this record.",
    };

    private static string NameOf(Sheet? sheet, WaitStarted started) =>
        sheet?.Waits.FirstOrDefault(wait => wait.Id == started.Wait)?.Name ?? started.Wait.Value;
}
