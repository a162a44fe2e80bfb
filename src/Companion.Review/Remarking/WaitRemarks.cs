using Companion.Domain.Events;

namespace Companion.Review.Remarking;

/// <summary>Waits that were barely kept, and claims that came before their end.</summary>
internal static class WaitRemarks
{
    public static IEnumerable<Remark> Of(RemarkBook book) => BarelyKept(book).Concat(EarlyClaims(book));

    /// <summary>The dead test that led to a proof began within seconds of the end of a wait that the proof rests on.</summary>
    private static IEnumerable<Remark> BarelyKept(RemarkBook book)
    {
        foreach (var (claimed, proof) in book.Of<DeadProved>())
        {
            foreach (var wait in proof.Waits.IsDefault ? [] : proof.Waits)
            {
                var over = book.Of<WaitCompleted>().LastOrDefault(completed => completed.Event.Wait == wait && completed.At.Sequence < claimed.Sequence);
                if (over.At is null)
                {
                    continue;
                }

                var began = BeginningOf(book, proof, over.At, claimed);
                if (RemarkBook.Within(over.At, began, RemarkLimits.BarelyKeptSeconds))
                {
                    yield return RemarkBook.About(
                        RemarkKind.WaitBarelyKept,
                        RemarkWeight.Known,
                        [began, over.At],
                        $"The dead test at {proof.TestPlace} began {RemarkBook.SecondsBetween(over.At, began)} s after the wait {wait} was over. The wait was kept in full; remarked up to {RemarkLimits.BarelyKeptSeconds} s.");
                }
            }
        }
    }

    private static RecordedEntry BeginningOf(RemarkBook book, DeadProved proof, RecordedEntry over, RecordedEntry claimed) => book.Of<TesterProved>()
        .Where(proving => proving.At.Sequence > over.Sequence && proving.At.Sequence < claimed.Sequence && proving.Event.TestPlace == proof.TestPlace)
        .Select(proving => proving.At)
        .FirstOrDefault() ?? claimed;

    private static IEnumerable<Remark> EarlyClaims(RemarkBook book)
    {
        foreach (var place in book.Of<DeadRefused>().Where(refused => refused.Event.RemainingSeconds > 0).GroupBy(refused => refused.Event.TestPlace))
        {
            var most = place.Max(refused => refused.Event.RemainingSeconds);
            yield return RemarkBook.About(
                RemarkKind.EarlyClaim,
                RemarkWeight.First,
                place.Select(refused => refused.At),
                $"\"Proved dead\" at {place.Key} was claimed {RemarkBook.Times(place.Count())} before the wait was over, with up to {RemarkBook.Length(most)} left. Each claim was refused.");
        }
    }
}
