using Companion.Domain.Events;

namespace Companion.Papers.Words;

/// <summary>What was looked over, and what was refused.</summary>
internal static class EquipmentSection
{
    public static PaperSection Of(RecordEnd end) => new("Equipment", [.. Rows(end)]);

    private static IEnumerable<PaperRow> Rows(RecordEnd end)
    {
        foreach (var entry in end.Record.Entries)
        {
            if (entry.Happened is KitChecked check)
            {
                var item = end.Job?.Kit.FirstOrDefault(item => item.Id == check.Item);
                yield return new PaperRow(
                    PaperText.Sentence(item?.Name ?? check.Item.Value),
                    $"{(item?.Serial is { } serial ? $"No. {serial}. " : string.Empty)}{(check.Ok ? "Looked over" : "Refused")} {end.When(entry.Entry.Time)}{(check.Reason is { Length: > 0 } reason ? $": {PaperText.Stopped(reason)}" : ".")}");
            }
        }
    }
}
