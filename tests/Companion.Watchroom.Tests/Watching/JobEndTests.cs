using Companion.Contracts.Uplink;
using Companion.Watchroom.Tests.Watching.Support;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Watching;

/// <summary>The end of a watch: by the tablet's word when it stays with it and nothing is open, or by a person's act.</summary>
public sealed class JobEndTests
{
    private static readonly Beat NoJob = WatchBench.BeatOf(null, job: null);

    [Fact]
    public async Task A_job_that_ended_at_the_tablet_is_not_missed_later()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Send(50, NoJob);
        await bench.Send(60, NoJob);
        Assert.Empty(bench.Keeper.View.Watches);
        await bench.Pulse(5000);
        Assert.DoesNotContain(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
        Assert.Contains(bench.Store.Read("watch"), entry => entry.Type == "watch.ended" && entry.Sealed["reason"].Text.Contains("no job", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Another_job_at_the_same_tablet_ends_the_watch_over_the_first()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Send(100, WatchBench.BeatOf(1, job: "job-2"));
        await bench.Send(111, WatchBench.BeatOf(1, age: 11, job: "job-2"));
        Assert.Equal("job-2", Assert.Single(bench.Keeper.View.Watches).Job);
    }

    [Fact]
    public async Task A_silence_that_nobody_took_does_not_keep_a_watch_whose_job_ended_later()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Pulse(60);
        await bench.Beat(300, checkIn: 2);
        await bench.Send(310, NoJob);
        await bench.Send(320, NoJob);
        Assert.Empty(bench.Keeper.View.Watches);
        Assert.Equal(AlertKind.SilentLink, Assert.Single(bench.Alerts).Kind);
    }

    [Fact]
    public async Task One_beat_without_a_job_from_a_tablet_that_is_starting_ends_nothing()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Send(100, NoJob);
        await bench.Beat(105, checkIn: 1, age: 105);
        await bench.Send(111, NoJob);
        Assert.Single(bench.Keeper.View.Watches);
        await bench.WatchUntil(1020, checkIn: 1, from: 112);
        Assert.Single(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
    }

    // I11: what reports "no job" must not silence an open alert.
    [Fact]
    public async Task A_tablet_that_reports_no_job_does_not_end_a_watch_with_an_open_alert()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.WatchUntil(1020, checkIn: 1, from: 1);
        await bench.Send(1025, NoJob);
        await bench.Send(1060, NoJob);
        Assert.Single(bench.Keeper.View.Watches);
        await bench.Keeper.TakeAsync(Assert.Single(bench.Alerts).Id, "Ilka Brandt", "spoke to the technician");
        await bench.Send(1061, NoJob);
        Assert.Empty(bench.Keeper.View.Watches);
        Assert.Single(bench.Alerts);
    }

    [Fact]
    public async Task A_watch_that_is_over_comes_back_with_a_new_check_in_and_never_with_an_old_beat()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 5);
        Assert.True(await bench.Keeper.EndWatchAsync(WatchBench.Device, WatchBench.Job, "Ilka Brandt", "tablet lost"));
        Assert.False(await bench.Keeper.EndWatchAsync(WatchBench.Device, WatchBench.Job, "Ilka Brandt", "tablet lost"));
        await bench.Restart(1);
        await bench.Beat(2, checkIn: 5);
        await bench.Beat(3, checkIn: 4);
        await bench.Beat(3, checkIn: 6, age: 5000);
        Assert.Empty(bench.Keeper.View.Watches);
        var answer = await bench.Beat(4, checkIn: 6);
        Assert.Equal(6, answer.CheckIn);
        Assert.Equal(WatchBench.At(1024), Assert.Single(bench.Keeper.View.Watches).OverdueFrom);
    }
}
