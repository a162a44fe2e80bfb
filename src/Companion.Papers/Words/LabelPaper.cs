using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Review;

namespace Companion.Papers.Words;

/// <summary>The label that hangs on the vehicle: few words, large, for somebody who has no time. Pure.</summary>
public static class LabelPaper
{
    /// <summary>The label of a record as it ends. Total.</summary>
    /// <param name="record">The record.</param>
    /// <param name="made">When the label is made.</param>
    public static Paper Of(RecordedJob record, DateTimeOffset made)
    {
        var end = RecordEnd.Of(record);
        return PaperFrame.Of(PaperKind.Label, "High voltage", end, made,
        [
            .. Trouble(end),
            new PaperSection("Vehicle", [.. Vehicle(end)], PaperEmphasis.Strong),
            HazardSections.StaysLive(end),
            new PaperSection("Hazards", [.. Hazards(end)], PaperEmphasis.Strong),
            HazardSections.MovingIt(end),
            new PaperSection("Points", [.. Points(end)]),
            new PaperSection("Tests", [.. Tests(end)]),
            new PaperSection("Ask", [PaperRow.Of(Asking(end))]),
        ]) with
        {
            Cautions =
            [
                end.Job is { StandOff: not null }
                    ? "The fire service and a competent person go before this label."
                    : "The maker's method and a competent person go before this label. Test again before any work.",
            ],
        };
    }

    private static IEnumerable<PaperRow> Vehicle(RecordEnd end) => end.Job?.Sheet is { } sheet ? [PaperRow.Of(PaperText.Sentence(sheet.Vehicle))] : [];

    private static IEnumerable<PaperSection> Trouble(RecordEnd end) => end.Troubles.IsEmpty
        ? []
        : [new PaperSection("Trouble with this record", [PaperRow.Of("See the hand-over sheet before anything on this label is believed.")], PaperEmphasis.Warning)];

    private static IEnumerable<PaperRow> Hazards(RecordEnd end) => (end.Job?.Scene?.Hazards ?? []).Select(item => PaperRow.Of($"Yes to: {item.Name}."));

    private static IEnumerable<PaperRow> Points(RecordEnd end) => end.Job is { Sheet: { } sheet } job
        ? sheet.Points.Where(point => Told(job, point)).Select(point => new PaperRow(PaperText.Sentence(point.Name), Short(job, point)))
        : [];

    /// <summary>A point of another way that was never touched is no news for whoever stands before the vehicle.</summary>
    private static bool Told(Job job, IsolationPoint point) =>
        job.Points.ContainsKey(point.Id) || job.Closed.Contains(point.Id) || LockRegister.At(job, point.Id).Any() || (job.Way?.Points.Contains(point) ?? false);

    private static string Short(Job job, IsolationPoint point)
    {
        var locks = job.LocksExchanged ? [] : LockRegister.At(job, point.Id).Select(fitted => $"lock {fitted.Number} of {PaperText.Crew(fitted.Holder)}");
        var state = job.Points.ContainsKey(point.Id) ? (job.Doubt ? "opened, not confirmed since" : "OPEN")
            : job.Closed.Contains(point.Id) ? (job.Doubt ? "closed, not confirmed since" : "closed")
            : "not known to be open";
        return string.Join(", ", locks.Prepend(state));
    }

    private static IEnumerable<PaperRow> Tests(RecordEnd end)
    {
        foreach (var place in end.Job?.Way?.TestPlaces ?? [])
        {
            yield return new PaperRow(PaperText.Sentence(place.Name), end.ProofOf(place.Id) is { } proof
                ? $"proved dead {end.Time(proof.Wall)}"
                : "not proved dead, or no longer");
        }
    }

    private static string Asking(RecordEnd end) => end.Job is { } job
        ? $"Ask {PaperText.Crew(job.Technician)}, and see the hand-over sheet."
        : "See the hand-over sheet.";
}
