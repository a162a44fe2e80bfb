using Companion.Domain.Events;

namespace Companion.Review.Remarking;

/// <summary>Devices that were lost, interruptions, and troubles of the record itself.</summary>
internal static class TroubleRemarks
{
    public static IEnumerable<Remark> Of(RemarkBook book) => Devices(book).Concat(Interruptions(book)).Concat(Record(book));

    private static IEnumerable<Remark> Devices(RemarkBook book)
    {
        foreach (var (at, lost) in book.Of<DeviceLost>())
        {
            var back = book.Of<DeviceReturned>().FirstOrDefault(returned => returned.Event.Which == lost.Which && returned.At.Sequence > at.Sequence).At;
            yield return RemarkBook.About(
                RemarkKind.DeviceTrouble,
                RemarkWeight.Word,
                back is null ? [at] : [at, back],
                $"The {lost.Which} was lost{(back is null ? " and did not come back within the record" : $" for {RemarkBook.Length(RemarkBook.SecondsBetween(at, back))}")}. {lost.Reason}".TrimEnd());
        }

        foreach (var view in book.Of<ViewLost>().GroupBy(lost => lost.Event.Which))
        {
            yield return RemarkBook.About(
                RemarkKind.DeviceTrouble, RemarkWeight.Word, view.Select(lost => lost.At), $"The view {view.Key} was without word from the tablet {RemarkBook.Times(view.Count())}.");
        }
    }

    private static IEnumerable<Remark> Interruptions(RemarkBook book)
    {
        for (var index = 0; index < book.Entries.Length; index++)
        {
            if (book.Entries[index].Happened is not ClockAnchored { Why: AnchorReason.Start or AnchorReason.Resume } anchored)
            {
                continue;
            }

            var (before, at) = (book.Entries[Math.Max(0, index - 1)], book.Entries[index]);
            yield return RemarkBook.About(
                RemarkKind.Interruption,
                RemarkWeight.Word,
                [at],
                $"{(anchored.Why == AnchorReason.Start ? "The tablet's program was started again" : "The tablet slept, or its program stood still,")} in the middle of the job, {RemarkBook.Length(RemarkBook.SecondsBetween(before, at))} after the entry before. That time counted for no wait.");
        }
    }

    private static IEnumerable<Remark> Record(RemarkBook book)
    {
        foreach (var trouble in book.Troubles)
        {
            yield return new Remark(
                RemarkKind.RecordTrouble, trouble.Kind == TroubleKind.ClockStep ? RemarkWeight.Known : RemarkWeight.First, [trouble.Sequence], trouble.Words);
        }
    }
}
