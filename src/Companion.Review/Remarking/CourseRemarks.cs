using Companion.Domain.Events;

namespace Companion.Review.Remarking;

/// <summary>Turns that the job took: alarms, check-ins, steps that could not be done, a stand-off.</summary>
internal static class CourseRemarks
{
    public static IEnumerable<Remark> Of(RemarkBook book) => Alarms(book).Concat(CheckIns(book)).Concat(CannotDo(book)).Concat(StandOffs(book));

    private static IEnumerable<Remark> Alarms(RemarkBook book)
    {
        foreach (var (at, raised) in book.Of<AlertRaised>())
        {
            var taken = book.Of<AlertTaken>().FirstOrDefault(answer => answer.Event.Alert == at.Sequence).At;
            var until = taken ?? book.Entries[^1];
            if (RemarkBook.Within(at, until, RemarkLimits.AlarmSeconds))
            {
                continue;
            }

            yield return RemarkBook.About(
                RemarkKind.AlarmAnsweredLate,
                RemarkWeight.First,
                taken is null ? [at] : [at, taken],
                taken is null
                    ? $"A warning ({raised.Kind.ToString().ToLowerInvariant()}) was not answered within the record, which goes on for {RemarkBook.Length(RemarkBook.SecondsBetween(at, until))}."
                    : $"A warning ({raised.Kind.ToString().ToLowerInvariant()}) was answered after {RemarkBook.Length(RemarkBook.SecondsBetween(at, until))}. Remarked over {RemarkLimits.AlarmSeconds} s.");
        }
    }

    private static IEnumerable<Remark> CheckIns(RemarkBook book)
    {
        foreach (var (at, _) in book.Of<CheckInUnanswered>())
        {
            var made = book.Of<CheckInMade>().FirstOrDefault(next => next.At.Sequence > at.Sequence).At;
            yield return RemarkBook.About(
                RemarkKind.CheckInMissed,
                RemarkWeight.First,
                made is null ? [at] : [at, made],
                $"A check-in was not answered until its margin had passed. The next one came {(made is null ? "not within the record" : $"{RemarkBook.Length(RemarkBook.SecondsBetween(at, made))} later")}.");
        }
    }

    private static IEnumerable<Remark> CannotDo(RemarkBook book)
    {
        foreach (var (at, unable) in book.Of<StepUnable>().Where(unable => unable.Event.Reason is not null))
        {
            yield return RemarkBook.About(
                RemarkKind.CannotDo, RemarkWeight.Known, [at], $"The step {unable.Step} could not be done: {Words(unable.Reason!.Value)}.");
        }

        foreach (var (at, taken) in book.Of<WayTaken>())
        {
            yield return RemarkBook.About(
                RemarkKind.CannotDo, RemarkWeight.Word, [at], $"Instead of the step {taken.Instead} the sheet's way {taken.Way} was taken: {Words(taken.Reason)}.");
        }
    }

    private static IEnumerable<Remark> StandOffs(RemarkBook book)
    {
        foreach (var (at, begun) in book.Of<StandOffBegun>())
        {
            yield return RemarkBook.About(RemarkKind.StandOff, RemarkWeight.First, [at], $"The job became a stand-off: {begun.Reason}");
        }
    }

    private static string Words(Domain.Isolation.InabilityReason reason) => reason switch
    {
        Domain.Isolation.InabilityReason.NotThere => "the point is not there",
        Domain.Isolation.InabilityReason.CannotReach => "it cannot be reached",
        Domain.Isolation.InabilityReason.Damaged => "it is damaged",
        Domain.Isolation.InabilityReason.Stuck => "it does not move",
        _ => "the tool for it is missing",
    };
}
