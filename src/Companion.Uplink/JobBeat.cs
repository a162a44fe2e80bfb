using Companion.Contracts.Uplink;
using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Engine;

namespace Companion.Uplink;

/// <summary>What a tablet says of itself, from the state of its loop. Pure.</summary>
public static class JobBeat
{
    /// <summary>A stop or live warning that nobody answered for this long is told to the watch room (I19).</summary>
    public static readonly Ticks WarningUnanswered = Ticks.OfSeconds(30);

    /// <summary>The age of what is of another running period of the tablet: unknown, and older than anything that counts.</summary>
    private const long AgeUnknown = 24L * 3600 * 1000;

    /// <summary>The beat of a moment.</summary>
    /// <param name="snapshot">The loop's state.</param>
    /// <param name="moment">Now.</param>
    /// <param name="rehearsal">True in a rehearsal store.</param>
    /// <param name="nameOf">The name of a crew id.</param>
    /// <param name="where">Where the tablet is, by its own finding: told only while a job is open.</param>
    public static Beat Of(Snapshot snapshot, Moment moment, bool rehearsal, Func<string, string> nameOf, Whereabouts? where = null)
    {
        if (snapshot.Job is not { Ended: false } job)
        {
            return new Beat(null, null, null, null, null, null, [], [], snapshot.Recording, rehearsal);
        }

        var counted = job.Clock.CountedAt(moment);
        return new Beat(
            job.Id,
            nameOf(job.Technician),
            NameOf(WorkPhases.Of(job)),
            job.Place,
            where,
            job.CheckIn is { } watch ? CheckIn(job, watch, moment) : null,
            [.. job.Waits.Values.Where(run => run.CompletedAt is null).OrderBy(run => run.StartedAt)
                .Select(run => new RunningWait(run.Rule.Name, run.Remaining(counted).SecondsRoundedUp))],
            [.. Calls(job, moment)],
            snapshot.Recording,
            rehearsal);
    }

    private static CheckInStatement CheckIn(Job job, CheckInWatch watch, Moment moment) => new(
        watch.Sequence,
        watch.BootId == moment.BootId ? Age(job.Clock.FullAt(moment) - watch.Made) : AgeUnknown,
        watch.IntervalSeconds,
        watch.MarginSeconds,
        NameOf(watch.Phase));

    private static IEnumerable<Call> Calls(Job job, Moment moment)
    {
        foreach (var call in job.CheckIn?.Calls.Where(call => !call.Taken) ?? [])
        {
            var kind = call.Kind == OutsideCallKind.Quiet ? CallKind.Quiet : CallKind.Help;
            yield return new Call($"{job.Id}/{call.Sequence}", kind, Age(job.Clock.FullAt(moment) - call.Made));
        }

        // Measured by the wall clock across a restart it would be the tablet's clock that causes an alert (I11): the watch room keeps its own.
        if (job.CheckIn is { Stage: CheckInStage.Unanswered } missed && missed.BootId == moment.BootId)
        {
            yield return new Call($"{job.Id}/{missed.Sequence}", CallKind.Unanswered, Age(job.Clock.FullAt(moment) - missed.Overdue));
        }

        if (job is { Alarm: { Kind: AlarmKind.Stop or AlarmKind.Live } alarm, Question: { Need.Kind: NeedKind.AlarmHeard } asked }
            && asked.BootId == moment.BootId && moment.Boot - asked.Since >= WarningUnanswered)
        {
            yield return new Call($"{job.Id}/{alarm.At}", CallKind.Warning, Age(moment.Boot - asked.Since));
        }
    }

    private static string NameOf(WorkPhase phase) => phase.ToString().ToLowerInvariant();

    private static long Age(Ticks ticks) => Math.Clamp(ticks.Nanoseconds / 1_000_000, 0, AgeUnknown);
}
