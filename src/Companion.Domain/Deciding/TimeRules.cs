using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.Domain.Deciding;

/// <summary>What the passing of time brings, before any command is looked at (I2, I10, I15).</summary>
internal static class TimeRules
{
    public static void Settle(Turn turn, Command command)
    {
        var rebooted = turn.Moment.BootId != turn.Job.Clock.BootId;
        if (IsGap(turn.Job, command, turn.Moment))
        {
            CloseGap(turn, command);
        }
        else
        {
            Anchor(turn);
            CompleteWaits(turn);
            EndOverdue(turn);
        }

        CheckInRules.Settle(turn, rebooted);
    }

    private static bool IsGap(Job job, Command command, Moment moment)
    {
        var clock = job.Clock;
        return command is Restarted
            || moment.BootId != clock.BootId
            || moment.Boot < clock.LastBoot
            || clock.SleptBy(moment)
            || (job.ClockRuns && moment.Boot - clock.LastBoot > JobClock.LongestStride);
    }

    /// <summary>The gap adds nothing to any wait; what depended on being watched is void; the open question is put again.</summary>
    private static void CloseGap(Turn turn, Command command)
    {
        var why = command is Restarted || turn.Moment.BootId != turn.Job.Clock.BootId ? AnchorReason.Start : AnchorReason.Resume;
        var wasCleared = turn.Job.RetestDue is not null;
        turn.Add(new ClockAnchored(why, turn.Moment.Awake));
        turn.AskAnew = true;
        const string reason = "the Companion was not running all the time";
        VoidRules.Lapse(turn, reason);
        if (wasCleared || command is Restarted)
        {
            VoidRules.VoidProofs(turn, _ => true, reason);
        }

        VoidRules.AbandonTest(turn, reason);
    }

    private static void Anchor(Turn turn)
    {
        var clock = turn.Job.Clock;
        if (clock.WallSteppedBy(turn.Moment))
        {
            turn.Add(new ClockAnchored(AnchorReason.Step, turn.Moment.Awake));
        }
        else if (turn.Job.ClockRuns && turn.Moment.Boot - clock.AnchorBoot >= JobClock.AnchorEvery)
        {
            turn.Add(new ClockAnchored(AnchorReason.Tick, turn.Moment.Awake));
        }
    }

    private static void CompleteWaits(Turn turn)
    {
        if (turn.Job.Doubt)
        {
            return;
        }

        var counted = turn.Counted;
        var over = turn.Job.Waits.Values.Where(run => run.CompletedAt is null && run.Remaining(counted) == Ticks.Zero);
        foreach (var run in over.OrderBy(run => run.StartedAt).ToList())
        {
            turn.Add(new WaitCompleted(run.Rule.Id, run.Rule.Circuit));
        }
    }

    private static void EndOverdue(Turn turn)
    {
        if (turn.Job.Test is { } test && WindowPassed(turn, test))
        {
            turn.Add(new DeadRefused(test.Place, "The dead test took longer than the sheet allows. Begin it again: first prove the tester.", 0));
            VoidRules.AbandonTest(turn, "the sheet's window for the dead test has passed");
        }

        if (turn.Job.RetestDue <= turn.Moment.Boot)
        {
            const string reason = "the time for the next test has come";
            VoidRules.Lapse(turn, reason);
            VoidRules.VoidProofs(turn, _ => true, reason);
        }
    }

    private static bool WindowPassed(Turn turn, DeadTest test)
    {
        var place = turn.Job.Sheet!.TestPlaces.First(candidate => candidate.Id == test.Place);
        return turn.Moment.Boot - test.StartedBoot > Ticks.OfSeconds(place.WindowSeconds);
    }
}
