using Companion.Contracts.Uplink;
using Companion.Watchroom.Tests.Watching.Support;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Watching;

/// <summary>Calls that come from the tablet.</summary>
public sealed class CallTests
{
    [Theory]
    [InlineData(CallKind.Help, AlertKind.Help)]
    [InlineData(CallKind.Quiet, AlertKind.Quiet)]
    [InlineData(CallKind.Warning, AlertKind.Warning)]
    public async Task A_call_is_raised_once_however_often_it_is_repeated(CallKind called, AlertKind raised)
    {
        await using var bench = await WatchBench.Start();
        var beat = WatchBench.BeatOf(1, calls: new Call("job-1/9", called, 3000));
        await bench.Send(0, beat);
        await bench.Send(5, beat);
        await bench.Restart(6);
        await bench.Send(7, beat);
        var alert = Assert.Single(bench.Alerts);
        Assert.Equal((raised, "ring road, marker 14"), (alert.Kind, alert.Place));
    }

    [Fact]
    public async Task The_tablet_is_told_who_has_taken_its_call()
    {
        await using var bench = await WatchBench.Start();
        var beat = WatchBench.BeatOf(1, calls: new Call("job-1/9", CallKind.Help, 0));
        Assert.Empty((await bench.Send(0, beat)).Taken);
        await bench.Keeper.TakeAsync(bench.Alerts[0].Id, "Ilka Brandt", "on the way");
        Assert.Equal([new TakenCall("job-1/9", "Ilka Brandt")], (await bench.Send(5, beat)).Taken);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task The_tablets_own_deadline_and_the_watch_rooms_make_one_alert(bool isTabletFirst)
    {
        await using var bench = await WatchBench.Start();
        var unanswered = WatchBench.BeatOf(1, age: 1000, calls: new Call("job-1/9", CallKind.Unanswered, 0));
        await bench.Beat(0, checkIn: 1);
        await bench.Send(isTabletFirst ? 1000 : 1030, unanswered);
        await bench.Pulse(1031);
        Assert.Equal(AlertKind.Overdue, Assert.Single(bench.Alerts, alert => alert.Kind != AlertKind.SilentLink).Kind);

        // Repeated after the next check-in, and after a restart, it still belongs to the old one.
        var repeated = WatchBench.BeatOf(2, calls: new Call("job-1/9", CallKind.Unanswered, 40_000));
        await bench.Send(1040, repeated);
        await bench.Restart(1041);
        await bench.Send(1042, repeated);
        Assert.Single(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
    }

    [Fact]
    public async Task A_delayed_beat_about_a_check_in_that_was_missed_earlier_is_not_held_against_the_later_one()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Beat(50, checkIn: 2);
        await bench.Send(51, WatchBench.BeatOf(1, age: 40, calls: new Call("job-1/9", CallKind.Unanswered, 0)));
        Assert.Equal("overdue:van-1:job-1:1", Assert.Single(bench.Alerts).Id);
        await bench.WatchUntil(1070, checkIn: 2, from: 52);
        Assert.Equal("overdue:van-1:job-1:2", bench.Alerts[0].Id);
    }

    [Fact]
    public async Task A_call_from_a_job_whose_watch_is_over_is_raised_all_the_same()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Keeper.EndWatchAsync(WatchBench.Device, WatchBench.Job, "Ilka Brandt", "the job is over");
        await bench.Send(5, WatchBench.BeatOf(1, age: 5, calls: new Call("job-1/9", CallKind.Help, 0)));
        Assert.Empty(bench.Keeper.View.Watches);
        Assert.Equal(AlertKind.Help, Assert.Single(bench.Alerts).Kind);
    }

    // The kind of a call stays out of the chain, so that the quiet word never shows in an ordinary export.
    [Fact]
    public async Task The_journal_itself_does_not_tell_a_quiet_call_from_a_loud_one()
    {
        await using var bench = await WatchBench.Start();
        await bench.Send(0, WatchBench.BeatOf(1, calls: new Call("job-1/9", CallKind.Quiet, 0)));
        Assert.All(bench.Store.Read("watch"), entry => Assert.DoesNotContain("quiet", entry.Data, StringComparison.OrdinalIgnoreCase));
        Assert.All(bench.Store.Read("watch"), entry => Assert.DoesNotContain("Ferrand", entry.Data, StringComparison.OrdinalIgnoreCase));
        Assert.DoesNotContain("quiet", bench.Alerts[0].Id, StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData("job-1")]
    [InlineData("job-2/9")]
    [InlineData("job-1/x")]
    [InlineData("job-1/0")]
    [InlineData("")]
    public async Task A_call_with_an_id_that_is_none_is_refused_with_the_reason(string id)
    {
        await using var bench = await WatchBench.Start();
        var refusal = await Assert.ThrowsAsync<ArgumentException>(() => bench.Send(0, WatchBench.BeatOf(1, calls: new Call(id, CallKind.Help, 0))));
        Assert.Contains("sequence", refusal.Message);
        Assert.Empty(bench.Keeper.View.Watches);
    }

    [Theory]
    [InlineData("<script>")]
    [InlineData("../job")]
    [InlineData("")]
    public async Task A_job_with_a_name_that_is_none_is_refused(string job)
    {
        await using var bench = await WatchBench.Start();
        await Assert.ThrowsAsync<ArgumentException>(() => bench.Send(0, WatchBench.BeatOf(1, job: job)));
    }

    [Fact]
    public async Task Texts_that_no_journal_takes_are_cleaned_and_lose_no_call()
    {
        await using var bench = await WatchBench.Start();
        var beat = WatchBench.BeatOf(1, calls: new Call("job-1/9", CallKind.Help, long.MaxValue)) with { Technician = "half \ud83d\0 a pair", Place = new string('x', 5000) };
        await bench.Send(0, beat);
        Assert.Equal(200, Assert.Single(bench.Alerts).Place!.Length);
        Assert.Null(bench.Keeper.Fault);
    }
}
