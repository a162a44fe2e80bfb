using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.Domain.Evolving;

/// <summary>The part of the fold that concerns locks, people, breaks and the way back.</summary>
internal static class SecuringFold
{
    public static Job Apply(Job job, JobEvent happened, long sequence, Moment moment) => happened switch
    {
        PointLocked locked => job with
        {
            Locks = job.Locks.RemoveAll(fitted => fitted.Point == locked.Point && fitted.Holder == locked.Holder)
                .Add(new FittedLock(locked.Point, locked.Lock, locked.Holder, sequence)),
        },
        PointUnlocked unlocked => job with
        {
            Locks = job.Locks.RemoveAll(fitted => fitted.Point == unlocked.Point && fitted.Number == unlocked.Lock),
        },
        PointOpened opened => job with { Closed = job.Closed.Remove(opened.Point) },
        PointClosed closed => job with { Points = job.Points.Remove(closed.Point), Closed = job.Closed.Add(closed.Point) },
        PersonChanged changed => Change(job, changed),
        ToolsCounted { Back: false } counted => job with { ToolsOut = counted.Count },
        ToolsCounted => job with { ToolsAreIn = true },
        PhaseEntered { Which: JobPhase.Break } => job with
        {
            Doubt = job.Doubt || job.IsolationBegun,
            OnBreak = job.IsolationBegun,
            EverybodyAway = false,
        },
        PhaseEntered => job with { PuttingBack = true, Closed = [] },
        StepConfirmed { Question: NeedKind.NothingTouched } => job with { OnBreak = false },
        StepConfirmed { Question: NeedKind.EverybodyAway } => job with { EverybodyAway = true },
        StepConfirmed { Question: NeedKind.Uncover } confirmed => job with { Done = job.Done.Remove(new StepId(confirmed.Step)) },
        DisturbanceReported reported => job with
        {
            OnBreak = job.OnBreak && reported.What != Disturbance.Unwatched,
            EverybodyAway = false,

            // What was closed before nobody watched may have been opened again.
            Closed = reported.What == Disturbance.Unwatched ? [] : job.Closed,
        },
        WorkStopped or ClockAnchored { Why: AnchorReason.Start or AnchorReason.Resume } => job with { EverybodyAway = false },
        ReadingTaken taken => job with
        {
            LastReadings = job.LastReadings.RemoveAll(last => last.Taken.TestPlace == taken.TestPlace && last.Taken.Pair == taken.Pair)
                .Add(new LastReading(taken, moment.Wall)),
        },
        _ => job,
    };

    private static Job Change(Job job, PersonChanged changed) => changed.Change switch
    {
        PersonChange.Arrived => job with { Present = Without(job, changed.Person).Add(changed.Person) },
        PersonChange.Joined => job with { Present = Without(job, changed.Person).Add(changed.Person), Workers = job.Workers.Add(changed.Person) },
        PersonChange.Left => job with { Present = Without(job, changed.Person), Workers = job.Workers.Remove(changed.Person) },
        _ => job with
        {
            Technician = changed.Person,
            Present = Without(job, changed.Person),
            Workers = [changed.Person, .. job.Workers.Remove(changed.Person).Remove(job.Technician)],
            Checked = [],
        },
    };

    /// <summary>
    /// A number that was not said before may be that of the person who was named when the job was opened: nobody is counted twice, or left
    /// behind as present (I23).
    /// </summary>
    private static ImmutableHashSet<string> Without(Job job, string person) =>
        job.Present.Remove(job.Present.Contains(person) ? person : Job.Unnumbered);
}
