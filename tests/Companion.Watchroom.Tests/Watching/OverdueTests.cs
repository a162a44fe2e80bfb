using Companion.Contracts.Uplink;
using Companion.Watchroom.Tests.Watching.Support;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Watching;

/// <summary>Overdue: the time at which the last person's check-in was received, the interval and the margin (I10, I11).</summary>
public sealed class OverdueTests
{
    // Worked example, interval 900 s, margin 120 s: last answer at 1 000 s; 1 899 quiet; 1 900 due; 2 019 not yet; 2 020 raised once.
    [Fact]
    public async Task An_overdue_check_in_is_raised_once_and_not_a_second_early()
    {
        await using var bench = await WatchBench.Start(1000);
        await bench.Beat(1000, checkIn: 7);
        Assert.Equal(WatchBench.At(1900), bench.Watch!.Due);
        Assert.Equal(WatchBench.At(2020), bench.Watch.OverdueFrom);
        await bench.WatchUntil(2019, checkIn: 7, from: 1001);
        Assert.Empty(bench.Alerts);
        await bench.WatchUntil(2020, checkIn: 7, from: 2020);
        var alert = Assert.Single(bench.Alerts);
        Assert.Equal(AlertKind.Overdue, alert.Kind);
        Assert.Equal(WatchBench.At(2020), alert.Raised);
        Assert.Equal("R. Ferrand", alert.Technician);
        Assert.Equal("ring road, marker 14", alert.Place);
        await bench.WatchUntil(2100, checkIn: 7, from: 2021);
        Assert.Equal(alert, Assert.Single(bench.Alerts));
    }

    // Worked example: answer at 2 019 = next due 2 919.
    [Fact]
    public async Task A_check_in_in_the_last_second_of_the_margin_counts()
    {
        await using var bench = await WatchBench.Start(1000);
        await bench.Beat(1000, checkIn: 7);
        await bench.WatchUntil(2018, checkIn: 7, from: 1001);
        await bench.Beat(2019, checkIn: 8);
        await bench.Pulse(2020);
        Assert.Equal(WatchBench.At(2919), bench.Watch!.Due);
        Assert.Empty(bench.Alerts);
    }

    // Worked example: asleep 1 100 to 2 500 = raised on waking.
    [Fact]
    public async Task What_fell_due_while_nobody_looked_is_raised_at_the_first_look()
    {
        await using var bench = await WatchBench.Start(1000);
        await bench.Beat(1000, checkIn: 7);
        await bench.Pulse(1100);
        await bench.Pulse(2500);
        Assert.Contains(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
    }

    [Fact]
    public async Task A_check_in_received_after_the_deadline_finds_the_alert_raised_even_if_nobody_had_looked()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Beat(1000, checkIn: 1, age: 1000);
        await bench.Beat(1020.5, checkIn: 2);
        var alert = Assert.Single(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
        Assert.Null(alert.Taken);
        Assert.Equal(WatchBench.At(1920.5), bench.Watch!.Due);
    }

    [Fact]
    public async Task The_age_that_a_check_in_had_counts_against_it()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(100, checkIn: 1, age: 40);
        Assert.Equal(WatchBench.At(60), bench.Watch!.CheckedInAt);
        Assert.Equal(TimeSpan.FromSeconds(40), bench.Watch.CheckInAge);
        Assert.Equal(WatchBench.At(960), bench.Watch.Due);
    }

    // I10: one that arrives late is shown with its age and ends no alert.
    [Fact]
    public async Task A_check_in_that_comes_too_late_is_shown_with_its_age_and_moves_nothing()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Pulse(1020);
        var answer = await bench.Beat(5000, checkIn: 2, age: 4500);
        await bench.Pulse(5001);
        Assert.Equal(2, answer.CheckIn);
        Assert.Equal(2, bench.Watch!.CheckIn);
        Assert.Equal(TimeSpan.FromSeconds(4500), bench.Watch.CheckInAge);
        Assert.Equal(WatchBench.At(1020), bench.Watch.OverdueFrom);
        var alert = Assert.Single(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
        Assert.Null(alert.Taken);
    }

    // I10. Went wrong: out of coverage, reached by telephone and the alert taken, then checked in and fell silent; nobody was told of that second silence.
    [Fact]
    public async Task A_silence_after_an_alert_that_was_taken_is_another_one()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Pulse(1020);
        var first = Assert.Single(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
        await bench.Keeper.TakeAsync(first.Id, "Ilka Brandt", "reached by telephone");
        var answer = await bench.Send(3000, WatchBench.BeatOf(2, age: 1100, calls: new Call("job-1/2", CallKind.Unanswered, 80_000)));
        await bench.Pulse(3001);
        var second = Assert.Single(bench.Alerts, alert => alert.Kind == AlertKind.Overdue && alert.Id != first.Id);
        Assert.Null(second.Taken);
        Assert.Empty(answer.Taken);

        // That one is not settled by the next late check-in.
        await bench.Beat(5000, checkIn: 3, age: 1500);
        await bench.Pulse(5001);
        Assert.Equal(2, bench.Alerts.Count(alert => alert.Kind == AlertKind.Overdue));
    }

    [Fact]
    public async Task A_job_first_heard_of_with_a_check_in_that_is_too_old_is_overdue_at_once()
    {
        await using var bench = await WatchBench.Start(9000);
        await bench.Beat(9000, checkIn: 1, age: 2000);
        await bench.Pulse(9000.1);
        Assert.Equal(AlertKind.Overdue, Assert.Single(bench.Alerts).Kind);
    }

    // I10: never silently extended.
    [Theory]
    [InlineData(7)]
    [InlineData(6)]
    [InlineData(1)]
    public async Task A_repeated_or_older_check_in_moves_nothing(long sequence)
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 7);
        var before = bench.Watch!;
        var answer = await bench.Beat(800, sequence);
        Assert.Equal(7, answer.CheckIn);
        Assert.Equal((before.Due, before.OverdueFrom, before.CheckIn, before.CheckedInAt), (bench.Watch!.Due, bench.Watch.OverdueFrom, bench.Watch.CheckIn, bench.Watch.CheckedInAt));
    }

    [Fact]
    public async Task A_longer_interval_waits_for_the_next_check_in_and_a_shorter_one_counts_at_once()
    {
        await using var bench = await WatchBench.Start();
        await bench.Send(0, WatchBench.BeatOf(3, interval: 900));
        await bench.Send(10, WatchBench.BeatOf(3, age: 10, interval: 1800, margin: 300));
        Assert.Equal(WatchBench.At(1020), bench.Watch!.OverdueFrom);
        await bench.Send(20, WatchBench.BeatOf(3, age: 20, interval: 300, margin: 60));
        Assert.Equal((WatchBench.At(300), WatchBench.At(360)), (bench.Watch!.Due, bench.Watch.OverdueFrom));
        await bench.Send(30, WatchBench.BeatOf(3, age: 30, interval: 900));
        Assert.Equal(WatchBench.At(360), bench.Watch!.OverdueFrom);
        await bench.Send(40, WatchBench.BeatOf(4, interval: 1800, margin: 300));
        Assert.Equal(WatchBench.At(2140), bench.Watch!.OverdueFrom);
    }

    [Fact]
    public async Task A_beat_that_states_no_check_in_any_more_does_not_end_the_deadline()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Beat(500, checkIn: null);
        await bench.Beat(1010, checkIn: null);
        await bench.Pulse(1020);
        Assert.Single(bench.Alerts, alert => alert.Kind == AlertKind.Overdue);
    }

    [Fact]
    public async Task An_alert_ends_only_by_a_persons_act()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.WatchUntil(1020, checkIn: 1, from: 1);
        await bench.Beat(1021, checkIn: 2);
        await bench.Pulse(1022);
        var alert = Assert.Single(bench.Alerts);
        Assert.Null(alert.Taken);
        Assert.False(await bench.Keeper.TakeAsync("overdue:van-1:job-1:99", "Ilka Brandt", ""));
        Assert.True(await bench.Keeper.TakeAsync(alert.Id, "Ilka Brandt", "spoke on the telephone"));
        var taken = Assert.Single(bench.Alerts).Taken!;
        Assert.Equal(("Ilka Brandt", "spoke on the telephone", WatchBench.At(1022)), (taken.Person, taken.Note, taken.At));
        await Assert.ThrowsAsync<ArgumentException>(async () => await bench.Keeper.TakeAsync(alert.Id, " ", ""));
    }

    [Fact]
    public async Task A_rehearsal_moves_nothing_real_and_its_alerts_are_marked()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Send(500, WatchBench.BeatOf(50, rehearsal: true, interval: 60, margin: 10));
        await bench.Send(510, WatchBench.BeatOf(null, job: null, rehearsal: true));
        await bench.Send(530, WatchBench.BeatOf(null, job: null, rehearsal: true));
        Assert.Equal(WatchBench.At(1020), bench.Keeper.View.Watches.Single(watch => !watch.Last.Rehearsal).OverdueFrom);
        await bench.Pulse(570);
        Assert.All(bench.Alerts.Where(alert => alert.Kind == AlertKind.Overdue), alert => Assert.True(alert.Rehearsal));
        await bench.Beat(1010, checkIn: 1, age: 1010);
        await bench.Pulse(1020);
        Assert.Single(bench.Alerts, alert => alert is { Kind: AlertKind.Overdue, Rehearsal: false });
    }
}
