using System.Collections.Immutable;
using Companion.Domain;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Review;

namespace Companion.Papers.Words;

/// <summary>How every point stands, and whose lock is on it.</summary>
internal static class PointSection
{
    public static PaperSection Of(RecordEnd end) => new(
        "Isolation points and locks",
        end.Job?.Sheet is { } sheet
            ? [.. sheet.Points.Select(point => new PaperRow(PaperText.Sentence(point.Name), Words(end, point.Id)))]
            : [PaperRow.Of("No point is known: no shutdown sheet is in this record.")]);

    /// <summary>How one point stands, in words.</summary>
    public static string Words(RecordEnd end, PointId point)
    {
        var job = end.Job!;
        var since = job.Doubt ? ", not confirmed since" : string.Empty;
        return job.Points.TryGetValue(point, out var open) ? $"{(job.Doubt ? "Opened" : "Open since")} {At(end, open.OpenedAt)}{since}{Locks(end, point)}."
            : job.Closed.Contains(point) ? $"Closed again{since}{Locks(end, point)}."
            : $"Not known to be open: treat as closed and live{Locks(end, point)}.";
    }

    private static string Locks(RecordEnd end, PointId point) => string.Concat(LockRegister.At(end.Job!, point).Select(fitted => end.Job!.LocksExchanged
        ? $"; lock {fitted.Number} of {PaperText.Crew(fitted.Holder)} was taken off at the hand-over, for one of whoever took over"
        : $"; lock {fitted.Number} of {PaperText.Crew(fitted.Holder)}, fitted {At(end, fitted.At)}"));

    private static string At(RecordEnd end, long sequence) =>
        end.Record.Entries.FirstOrDefault(entry => entry.Sequence == sequence) is { } entry ? end.When(entry.Entry.Time) : "a time that is not in this record";
}
