using Companion.Contracts.Uplink;
using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.TestKit;

namespace Companion.Uplink.Tests;

/// <summary>What a tablet says of itself.</summary>
public sealed class JobBeatTests
{
    private static readonly CheckInPolicy Policy = DemoWatch.Even(600, 120, 0);

    private static JobBench Bench() => new JobBench { Watch = Policy }.Open();

    private static Beat BeatOf(JobBench bench, Whereabouts? where = null) => JobBeat.Of(
        new Snapshot(bench.Job, bench.Time.Now, true, null, null, System.Collections.Immutable.ImmutableDictionary<string, string>.Empty),
        bench.Time.Now,
        false,
        id => id == "crew-4" ? "Ines" : id,
        where);

    [Fact]
    public void Before_a_job_and_after_it_only_the_link_is_told_of()
    {
        var bench = new JobBench { Watch = Policy };
        Assert.Null(BeatOf(bench).Job);
        bench.Open();
        Assert.Equal(("job-1", "Ines", "travelling", "Quarry road, marker 7"), (BeatOf(bench).Job, BeatOf(bench).Technician, BeatOf(bench).Phase, BeatOf(bench).Place));
        bench.Do(new CloseJob("nothing to do"));
        Assert.Equal((null, null, 0), (BeatOf(bench).Job, BeatOf(bench).CheckIn, BeatOf(bench).Alerts.Count));
    }

    [Fact]
    public void Where_the_tablet_is_is_told_only_while_a_job_is_open()
    {
        var where = new Whereabouts("52.20510", "-0.13640", 12, 4000);
        var bench = new JobBench { Watch = Policy };
        Assert.Null(BeatOf(bench, where).Where);
        bench.Open();
        Assert.Equal(where, BeatOf(bench, where).Where);
        bench.Do(new CloseJob("nothing to do"));
        Assert.Null(BeatOf(bench, where).Where);
    }

    [Fact]
    public void The_last_check_in_is_told_with_its_age_and_times()
    {
        var bench = Bench();
        Assert.Equal(new CheckInStatement(1, 0, 600, 120, "travelling"), BeatOf(bench).CheckIn);
        bench.Pass(100);
        bench.Say(Phrase.AllRight);
        var sequence = bench.Job!.Sequence;
        bench.Pass(40);
        Assert.Equal(new CheckInStatement(sequence, 40_000, 600, 120, "travelling"), BeatOf(bench).CheckIn);
    }

    // I11: no clock of the tablet tells for certain how long it was off.
    [Fact]
    public void The_age_of_a_check_in_from_before_a_restart_of_the_tablet_is_unknown()
    {
        var bench = Bench();
        bench.Time.Reboot();
        bench.Do(new Restarted());
        Assert.Equal(24L * 3600 * 1000, BeatOf(bench).CheckIn!.AgeMilliseconds);
    }

    [Fact]
    public void A_missed_check_in_is_called_and_not_if_only_the_wall_clock_says_so()
    {
        var bench = Bench();
        bench.Pass(720);
        Assert.Equal(new Call("job-1/1", CallKind.Unanswered, 0), Assert.Single(BeatOf(bench).Alerts));

        var off = Bench();
        off.Time.StepWall(TimeSpan.FromDays(2));
        off.Time.Reboot();
        off.Do(new Restarted());
        Assert.Equal(CheckInStage.Unanswered, off.Job!.CheckIn!.Stage);
        Assert.Empty(BeatOf(off).Alerts);
    }

    [Fact]
    public void Help_and_the_quiet_word_are_called_until_taken_each_under_its_own_kind()
    {
        var bench = Bench();
        bench.Say(Phrase.HelpMe);
        bench.Say(Phrase.StatusAllRight);
        var calls = bench.Job!.CheckIn!.Calls;
        Assert.Equal([CallKind.Help, CallKind.Quiet], BeatOf(bench).Alerts.Select(call => call.Kind));
        bench.Do(new TakeCall(calls[0].Sequence, "Runa"));
        Assert.Equal($"job-1/{calls[1].Sequence}", Assert.Single(BeatOf(bench).Alerts).Id);
    }

    // I19
    [Fact]
    public void A_stop_that_nobody_answers_is_told_after_half_a_minute()
    {
        var bench = Bench();
        bench.Say(Phrase.Stop);
        bench.Pass(29);
        Assert.Empty(BeatOf(bench).Alerts);
        bench.Pass(1);
        Assert.Equal(CallKind.Warning, Assert.Single(BeatOf(bench).Alerts).Kind);
        bench.Say(Phrase.Affirm);
        Assert.Empty(BeatOf(bench).Alerts);
    }

    [Fact]
    public void Running_waits_are_told_with_the_seconds_left()
    {
        var bench = new JobBench { Watch = Policy }.Open().Prepare().Until(NeedKind.WaitOver);
        var wait = BeatOf(bench).Waits[0];
        bench.Pass(10);
        Assert.Equal(wait with { SecondsLeft = wait.SecondsLeft - 10 }, BeatOf(bench).Waits[0]);
    }
}
