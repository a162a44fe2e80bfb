using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

public sealed class WaitTests
{
    private static readonly WaitId Front = new("frontwait");
    private static readonly WaitId Rear = new("rearwait");

    // I1
    [Fact]
    public void A_wait_starts_only_when_the_last_point_feeding_its_circuit_is_open()
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint, 2);
        Assert.DoesNotContain(Front, bench.Job!.Waits.Keys);

        bench.Claim(Phrase.Opened);

        Assert.Contains(Front, bench.Job.Waits.Keys);
        Assert.DoesNotContain(Rear, bench.Job.Waits.Keys);
    }

    // I1; after a 10 minute wait t = 599 s is refused (computed).
    [Fact]
    public void Proved_dead_is_refused_until_the_last_second_with_the_seconds_left()
    {
        var bench = new JobBench { Sheet = DemoSheets.Van(controlSeconds: 600) }.Open().Until(NeedKind.WaitOver);
        bench.Pass(599);
        Assert.Null(bench.Job!.Waits[new WaitId("controlwait")].CompletedAt);

        var refused = Assert.IsType<Refused>(bench.Say(Phrase.ProvedDead));
        Assert.Contains("Not open", refused.Reason, StringComparison.Ordinal);

        bench.Pass(1);
        Assert.NotNull(bench.Job.Waits[new WaitId("controlwait")].CompletedAt);
    }

    [Theory]
    [InlineData(2, 598)]
    [InlineData(300, 300)]
    [InlineData(599, 1)]
    public void A_refusal_during_the_wait_says_the_seconds_left(int passed, long left)
    {
        var bench = new JobBench { Sheet = DemoSheets.Van(frontSeconds: 600) }.Open().Until(NeedKind.WaitOver, 122);
        var start = bench.Log.First(recorded => recorded.Event is WaitStarted { Wait.Value: "frontwait" }).Moment;
        var target = start.Boot + Ticks.OfSeconds(passed) - Ticks.OfMilliseconds(10);
        while (target - bench.Time.Now.Boot > Ticks.OfSeconds(1))
        {
            bench.Pass(1);
        }

        bench.Time.Pass(target - bench.Time.Now.Boot);

        var refused = Assert.IsType<Refused>(bench.Say(Phrase.ProvedDead));

        Assert.Equal(left, refused.RemainingSeconds);
        Assert.Contains($"{left} second", refused.Reason, StringComparison.Ordinal);
        Assert.IsType<DeadRefused>(bench.Log[^1].Event);
    }

    [Fact]
    public void Waits_of_separate_circuits_do_not_influence_each_other()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver, 122);
        var rear = bench.Job!.Waits[Rear];

        bench.Say(Phrase.ChargerConnected);

        Assert.DoesNotContain(Rear, bench.Job.Waits.Keys);
        Assert.Contains(Front, bench.Job.Waits.Keys);
        Assert.NotEqual(0, rear.StartedAt);
    }

    // I2
    [Fact]
    public void A_wall_clock_set_forward_shortens_no_wait()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        bench.Time.StepWall(TimeSpan.FromDays(1));
        bench.Pass(1);
        Assert.Null(bench.Job!.Waits[new WaitId("controlwait")].CompletedAt);
        Assert.Equal(AnchorReason.Step, bench.LastOf<ClockAnchored>().Why);
    }

    // I2
    [Fact]
    public void A_wall_clock_set_back_a_day_changes_no_wait_and_is_journalled()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        bench.Time.StepWall(TimeSpan.FromDays(-1));
        bench.Pass(121);
        Assert.NotNull(bench.Job!.Waits[new WaitId("controlwait")].CompletedAt);
        Assert.Contains(bench.Log, recorded => recorded.Event is ClockAnchored { Why: AnchorReason.Step });
        Assert.Equal(DemoTime.Start.Date, bench.Job.Clock.LatestWall.Date);
    }

    // I2; clock_gettime(2): CLOCK_MONOTONIC excludes suspend, CLOCK_BOOTTIME includes it (published).
    [Fact]
    public void Sleep_counts_nothing_and_the_technician_is_asked_whether_anything_was_touched()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        bench.Pass(60);
        bench.Time.Sleep(Ticks.OfSeconds(900));
        bench.Do(new Tick());

        Assert.Equal(NeedKind.NothingTouched, bench.Job!.Question!.Need.Kind);
        Assert.Null(bench.Job.Waits[new WaitId("controlwait")].CompletedAt);

        bench.Claim(Phrase.NothingTouched);
        bench.Pass(58);
        Assert.Null(bench.Job.Waits[new WaitId("controlwait")].CompletedAt);
        bench.Pass(4);
        Assert.NotNull(bench.Job.Waits[new WaitId("controlwait")].CompletedAt);
    }

    // I2
    [Fact]
    public void A_wait_in_progress_survives_a_restart_without_gaining_time()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        bench.Pass(60);
        var counted = bench.Job!.Clock.CountedAt(bench.Time.Now);
        bench.Time.Reboot();
        bench.Do(new Restarted());

        Assert.True(bench.Job.Clock.CountedAt(bench.Time.Now) <= counted);
        Assert.Contains(new WaitId("controlwait"), bench.Job.Waits.Keys);
        Assert.Equal(NeedKind.NothingTouched, bench.Job.Question!.Need.Kind);
    }

    // I2
    [Fact]
    public void When_something_was_touched_during_the_gap_everything_is_void()
    {
        var bench = new JobBench().Open().Until(NeedKind.TakeReading, 4);
        Assert.Equal(1, bench.Count<DeadProved>());
        bench.Time.Reboot();
        bench.Do(new Restarted());

        bench.Say(Phrase.Wrong);

        Assert.Empty(bench.Job!.Waits);
        Assert.Empty(bench.Job.Proofs);
        Assert.Empty(bench.Job.Points);
    }

    [Fact]
    public void A_loop_that_stood_still_longer_than_an_anchor_counts_nothing()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        bench.Time.Pass(Ticks.OfSeconds(500));
        bench.Do(new Tick());

        Assert.Null(bench.Job!.Waits[new WaitId("controlwait")].CompletedAt);
        Assert.True(bench.Job.Doubt);
    }

    [Fact]
    public void Anchors_are_written_every_ten_seconds_while_a_wait_runs()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        var before = bench.Count<ClockAnchored>();
        bench.Pass(100);
        Assert.InRange(bench.Count<ClockAnchored>() - before, 9, 11);
    }
}
