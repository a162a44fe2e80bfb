using System.Collections.Immutable;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Time;

namespace Companion.Domain.Evolving;

/// <summary>The part of the fold that concerns points, waits, dead tests and clear to work.</summary>
internal static class IsolationFold
{
    public static Job Apply(Job job, JobEvent happened, long sequence, Moment moment) => happened switch
    {
        PointOpened opened => job with
        {
            Points = job.Points.SetItem(opened.Point, new PointState(sequence)),
            Opened = job.Opened.Contains(opened.Point) ? job.Opened : job.Opened.Add(opened.Point),
        },
        WaitStarted started => StartWait(job, started, sequence),
        WaitCompleted completed when job.Waits.TryGetValue(completed.Wait, out var run) =>
            job with { Waits = job.Waits.SetItem(completed.Wait, run with { CompletedAt = sequence }) },
        WaitVoided voided => job with { Waits = job.Waits.Remove(voided.Wait) },
        TesterProved { Ok: false } failed => job with { Checked = job.Checked.Remove(failed.Tester), Failed = job.Failed.Add(failed.Tester) },
        TesterProved proved => Prove(job, proved, moment),
        ReadingTaken { Purpose: ReadingPurpose.DeadTest } taken => Read(job, taken, sequence),
        ContactConfirmed => job with { Test = job.Test is null ? null : job.Test with { ContactConfirmed = true } },
        DeadProved proved => job with
        {
            Proofs = job.Proofs.SetItem(proved.TestPlace, new Proof(sequence, moment.Wall)),
            Test = null,
        },
        ProofVoided voided => Void(job, voided.TestPlace),
        DisturbanceReported reported => Disturb(job, reported),
        WorkCleared cleared => job with
        {
            Clearance = new Clearance(sequence, moment.Wall, cleared.RetestDue, WallAt(cleared.RetestDue, moment)),
            RetestDue = cleared.RetestDue,
        },
        WorkLapsed => job with { Clearance = null },
        AlertRaised raised => job with { Alarms = Raise(job.Alarms, new Alarm(sequence, raised.Kind, raised.Alert)) },
        AlertTaken taken => job with { Alarms = job.Alarms.RemoveAll(alarm => alarm.At == taken.Alert) },
        _ => job,
    };

    /// <summary>The same words again are the same warning, to be answered once.</summary>
    private static ImmutableArray<Alarm> Raise(ImmutableArray<Alarm> alarms, Alarm raised) =>
        alarms.RemoveAll(alarm => alarm.Kind == raised.Kind && alarm.Text == raised.Text).Add(raised);

    private static Job StartWait(Job job, WaitStarted started, long sequence)
    {
        var rule = job.Way?.Waits.FirstOrDefault(wait => wait.Id == started.Wait)
            ?? new WaitRule(started.Wait, started.Wait.Value, started.Circuit, started.Seconds);
        return job with { Waits = job.Waits.SetItem(started.Wait, new WaitRun(rule, sequence, job.Clock.Counted, null)) };
    }

    private static Job Prove(Job job, TesterProved proved, Moment moment)
    {
        var test = job.Test is { } running && running.Place == proved.TestPlace && running.Tester == proved.Tester
            ? running
            : new DeadTest(proved.TestPlace, proved.Tester, moment.Boot);
        return job with
        {
            Test = proved.Phase == ProvingPhase.Before
                ? test with { Before = test.Before.Add(proved.Kind) }
                : test with { After = test.After.Add(proved.Kind) },
        };
    }

    /// <summary>The wall time of a moment to come, a day ahead at most: a journal from elsewhere may claim any number.</summary>
    private static DateTimeOffset WallAt(Ticks due, Moment now) =>
        now.Wall.AddTicks((long)Math.Clamp(((decimal)due.Nanoseconds - now.Boot.Nanoseconds) / 100, 0, TimeSpan.TicksPerDay));

    private static Job Void(Job job, TestPlaceId place)
    {
        var proofs = job.Proofs.Remove(place);
        return job with
        {
            Proofs = proofs,
            RetestDue = proofs.IsEmpty ? null : job.RetestDue,
            Test = job.Test?.Place == place ? null : job.Test,
        };
    }

    private static Job Read(Job job, ReadingTaken taken, long sequence)
    {
        if (job.Test is not { } test || test.Place != taken.TestPlace || test.Tester != taken.Tester)
        {
            return job;
        }

        var reading = taken.Below is { } below
            ? new Reading(below, true, taken.Kind)
            : new Reading(taken.Volts ?? default, false, taken.Kind);
        return job with { Test = test with { Readings = test.Readings.SetItem(taken.Pair, new TakenReading(reading, sequence)) } };
    }

    /// <summary>
    /// The points are no longer known to be open, and what covered the live side is no longer known to be there. A vehicle that has moved is no
    /// longer chocked either: every act is asked for again. On the way back a cover stays in the list of what must come off.
    /// </summary>
    private static Job Disturb(Job job, DisturbanceReported reported)
    {
        var covers = job.Way is null ? [] : job.Way.Steps.Where(step => step.Kind == StepKind.Cover).Select(step => step.Id);
        var moved = reported.What is Disturbance.WheelsTurned or Disturbance.VehicleTowed;
        return job with
        {
            Points = job.Points.RemoveRange(reported.Points),
            Done = job.PuttingBack ? moved ? job.Done.Intersect(covers) : job.Done : moved ? [] : job.Done.Except(covers),
            Clearance = null,
            Doubt = reported.What != Disturbance.Unwatched && job.Doubt,
        };
    }
}
