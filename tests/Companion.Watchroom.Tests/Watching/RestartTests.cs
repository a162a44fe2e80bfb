using Companion.Contracts.Uplink;
using Companion.Engine.Ports;
using Companion.Watchroom.Tests.Watching.Support;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Watching;

/// <summary>Kill -9 and restart at any moment, downtime, power cuts and full disks.</summary>
public sealed class RestartTests
{
    [Fact]
    public async Task A_deadline_is_neither_lost_nor_moved_by_a_short_restart()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.WatchUntil(1019, checkIn: 1, from: 1);
        await bench.Restart(1020.5);
        Assert.Empty(bench.Keeper.View.Blind);
        await bench.Pulse(1020.6);
        Assert.Single(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
        await bench.Restart(1021);
        await bench.Pulse(1022);
        Assert.Single(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
    }

    [Fact]
    public async Task After_its_own_downtime_the_watch_room_says_so_and_gives_everybody_a_short_grace()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Pulse(10);
        await bench.Restart(2000);
        Assert.Equal(new BlindPeriod(WatchBench.At(10), WatchBench.At(2000)), Assert.Single(bench.Keeper.View.Blind));
        await bench.Pulse(2029.9);
        Assert.Empty(bench.Alerts);
        await bench.Restart(2029.95);
        await bench.Pulse(2030);
        Assert.Equal([AlertKind.Overdue, AlertKind.SilentLink], bench.Alerts.Select(alert => alert.Kind).Order());
        Assert.Contains(bench.Store.Read("watch"), entry => entry.Type == "watch.blind");
    }

    [Fact]
    public async Task A_check_in_within_the_grace_is_in_time_and_a_call_for_help_does_not_wait_for_it()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Pulse(10);
        await bench.Restart(2000, isKilled: false);
        await bench.Send(2010, WatchBench.BeatOf(2, age: 400, calls: new Call("job-1/9", CallKind.Help, 100)));
        Assert.Equal(AlertKind.Help, Assert.Single(bench.Alerts).Kind);
        await bench.Pulse(2031);
        Assert.Single(bench.Alerts);
        Assert.Equal(WatchBench.At(2630), bench.Watch!.OverdueFrom);
    }

    // The machine slept: nobody could check in meanwhile, so nobody is called at once on waking.
    [Fact]
    public async Task A_machine_that_slept_is_blind_for_that_time_and_then_gives_the_same_grace()
    {
        await using var bench = await WatchBench.Start(stalledAfter: 10);
        await bench.Beat(0, checkIn: 1);
        await bench.Pulse(10);
        Assert.Empty(bench.Keeper.View.Blind);
        await bench.Pulse(3000);
        Assert.Equal(new BlindPeriod(WatchBench.At(10), WatchBench.At(3000)), Assert.Single(bench.Keeper.View.Blind));
        for (var second = 3005; second < 3030; second += 5)
        {
            await bench.Pulse(second);
            Assert.Empty(bench.Alerts);
        }

        await bench.Pulse(3030);
        Assert.Equal([AlertKind.Overdue, AlertKind.SilentLink], bench.Alerts.Select(alert => alert.Kind).Order());
        await bench.Restart(3031);
        Assert.Single(bench.Keeper.View.Blind);
        Assert.Equal(2, bench.Alerts.Length);
    }

    [Fact]
    public async Task A_watch_room_that_dies_again_and_again_does_not_put_off_its_alerts_for_ever()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Pulse(10);
        var now = 2000.0;
        for (var life = 0; life < 6 && bench.Alerts.IsEmpty; life++)
        {
            await bench.Restart(now);
            for (var second = 1; second <= 8 && bench.Alerts.IsEmpty; second++)
            {
                await bench.Pulse(now + second);
            }

            now += 12;
        }

        Assert.Contains(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
        Assert.Equal(4, bench.Keeper.View.Blind.Length);
    }

    // I10: a clock that was set back while the watch room was down must not make a deadline late.
    [Fact]
    public async Task A_clock_set_back_between_two_runs_lets_no_deadline_go_unseen()
    {
        await using var bench = await WatchBench.Start(500_000);
        await bench.Beat(500_000, checkIn: 1);
        await bench.Pulse(500_001);
        await bench.Restart(100);
        await bench.Pulse(131);
        Assert.Single(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
        await bench.Restart(132);
        Assert.Single(bench.Keeper.View.Blind);
    }

    // I10: nor one that was set back by less than it was down for, which looks like a shorter time: the machine's own time since its start tells.
    [Fact]
    public async Task A_clock_set_back_by_less_than_the_time_down_makes_no_deadline_late()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Pulse(10);
        bench.Time.WallSetBy = -900;
        await bench.Restart(1000);
        Assert.Single(bench.Keeper.View.Blind);
        await bench.Pulse(1029);
        Assert.DoesNotContain(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
        await bench.Pulse(1030);
        Assert.Single(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
        await bench.Restart(1031);
        Assert.Single(bench.Keeper.View.Blind);
        Assert.Single(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
    }

    [Fact]
    public async Task What_was_taken_stays_taken_and_who_ended_a_watch_is_kept()
    {
        await using var bench = await WatchBench.Start();
        await bench.Send(0, WatchBench.BeatOf(1, calls: new Call("job-1/9", CallKind.Help, 0)));
        await bench.Keeper.TakeAsync(bench.Alerts[0].Id, "Ilka Brandt", "on the way");
        var before = bench.Keeper.View;
        await bench.Restart(1);
        Assert.Equal(before.Alerts.AsEnumerable(), bench.Keeper.View.Alerts);
        Assert.True(bench.Keeper.View.Version > before.Version);
    }

    // Names, places and notes can be erased; the deadlines and what was raised and taken do not hang on them.
    [Fact]
    public async Task Erasing_all_personal_texts_changes_no_deadline_and_loses_no_alert()
    {
        await using var bench = await WatchBench.Start();
        await bench.Send(0, WatchBench.BeatOf(1, calls: new Call("job-1/9", CallKind.Quiet, 0)));
        await bench.Pulse(60);
        await bench.Keeper.TakeAsync("call:van-1:job-1:9", "Ilka Brandt", "on the way");
        await bench.Keeper.EndWatchAsync(WatchBench.Device, WatchBench.Job, "Ilka Brandt", "over");
        await bench.Beat(61, checkIn: 2);
        foreach (var entry in bench.Store.Read("watch"))
        {
            await bench.Store.EraseSealedAsync("watch", entry.Sequence);
        }

        await bench.Restart(62);
        Assert.Equal(WatchBench.At(1081), bench.Watch!.OverdueFrom);
        Assert.Equal(["silent:van-1:job-1:1", "call:van-1:job-1:9"], bench.Alerts.Select(alert => alert.Id));
        Assert.Equal((AlertKind.Help, ""), (bench.Alerts[1].Kind, bench.Alerts[1].Technician));
        Assert.NotNull(bench.Alerts[1].Taken);
    }

    // I16: losing needs no disk, gaining does.
    [Fact]
    public async Task With_a_disk_that_takes_nothing_alerts_are_still_raised_once_and_check_ins_are_not_believed()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Pulse(1);
        bench.Disk.ErrorAt = bench.Disk.Operations + 1;
        bench.Disk.ErrorLasts = true;
        await Assert.ThrowsAsync<StoreFaultException>(() => bench.Beat(500, checkIn: 2));
        Assert.NotNull(bench.Keeper.Fault);
        Assert.Equal(WatchBench.At(1020), bench.Watch!.OverdueFrom);
        Assert.Equal(WatchBench.At(500), bench.Watch.LastBeat);
        await Assert.ThrowsAsync<StoreFaultException>(() => bench.Send(
            550, WatchBench.BeatOf(1, age: 550, calls: new Call("job-1/9", CallKind.Help, 0))));
        await Assert.ThrowsAsync<StoreFaultException>(() => bench.Send(
            555, WatchBench.BeatOf(1, age: 555, calls: new Call("job-1/9", CallKind.Help, 0))));
        Assert.Equal(AlertKind.Help, bench.Alerts[0].Kind);
        await Assert.ThrowsAsync<StoreFaultException>(() => bench.Pulse(1020));
        await bench.Pulse(1021);
        Assert.Equal(
            [AlertKind.Overdue, AlertKind.SilentLink, AlertKind.SilentLink, AlertKind.Help], bench.Alerts.Select(alert => alert.Kind).Order());
    }

    [Fact]
    public async Task An_alert_is_shown_before_the_disk_has_taken_it()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        var durableWhenShown = new List<bool>();
        bench.Keeper.Changed += () =>
        {
            if (!bench.Alerts.IsEmpty)
            {
                durableWhenShown.Add(bench.Store.Read("watch").Any(entry => entry.Type == "watch.alerted"));
            }
        };
        await bench.Pulse(60);
        Assert.Equal([false, true], durableWhenShown);
    }

    // What was answered survives a cut of the power at any operation of the disk, and nothing is raised twice over it.
    [Fact]
    public async Task What_was_answered_survives_a_cut_of_the_power_at_any_moment()
    {
        var operations = await Day(cutAt: null);
        for (var cut = 1; cut <= operations; cut += 3)
        {
            await Day(cut);
        }
    }

    private static async Task<int> Day(int? cutAt)
    {
        await using var bench = await WatchBench.Start();
        var before = bench.Disk.Operations;
        bench.Disk.CutAt = before + cutAt;
        var (kept, taken, alerts) = (0L, false, 0);
        try
        {
            kept = (await bench.Beat(0, checkIn: 1)).CheckIn;
            await bench.Pulse(1);
            kept = (await bench.Beat(50, checkIn: 2)).CheckIn;
            await bench.Send(60, WatchBench.BeatOf(2, age: 10, calls: new Call("job-1/9", CallKind.Help, 0)));
            alerts = 1;
            taken = await bench.Keeper.TakeAsync("call:van-1:job-1:9", "Ilka Brandt", "on the way");
            await bench.Pulse(61);
        }
        catch (StoreFaultException)
        {
            // From here on nothing was answered.
        }

        var operations = bench.Disk.Operations - before;
        if (cutAt is not null)
        {
            await bench.RestartOn(bench.Disk.AfterCut(new Random(cutAt.Value)), 62);
            Assert.True((bench.Watch?.CheckIn ?? 0) >= kept, $"cut at {cutAt}: check-in {kept} is lost");
            Assert.True(bench.Alerts.Length >= alerts, $"cut at {cutAt}: the call is lost");
            Assert.True(!taken || bench.Alerts[^1].Taken is not null, $"cut at {cutAt}: who took it is lost");
            await bench.Send(63, WatchBench.BeatOf(2, age: 13, calls: new Call("job-1/9", CallKind.Help, 3000)));
            Assert.Single(bench.Alerts, alert => alert.Kind == AlertKind.Help);
        }

        return operations;
    }
}
