using Companion.Watchroom.Tests.Watching.Support;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Watching;

/// <summary>Silent link: the time at which the last beat was received and a margin. It never mixes with overdue.</summary>
public sealed class SilentLinkTests
{
    [Fact]
    public async Task A_silent_link_is_raised_once_for_each_silence()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Pulse(59.9);
        Assert.Empty(bench.Alerts);
        await bench.Pulse(60);
        await bench.Pulse(61);
        var first = Assert.Single(bench.Alerts);
        Assert.Equal(AlertKind.SilentLink, first.Kind);
        await bench.Beat(100, checkIn: 1, age: 100);
        Assert.Null(Assert.Single(bench.Alerts).Taken);
        await bench.Pulse(160);
        await bench.Pulse(200);
        Assert.Equal(2, bench.Alerts.Length);
        Assert.Equal(first, bench.Alerts[1]);
        Assert.NotEqual(first.Id, bench.Alerts[0].Id);
    }

    // A failing disk took the beats and not the alert: after a restart the silence before it still stood, and no other was raised.
    [Fact]
    public void A_silence_that_was_not_recorded_is_raised_again_after_a_restart()
    {
        var rules = new WatchRules(new WatchOptions("unused"));
        var id = new WatchId(WatchBench.Device, "job-1", Rehearsal: false);
        var opened = rules.Apply(WatchBook.Empty, new WatchEvent.Opened(WatchBench.At(0), id, "Maren Oake", null, "working"));
        var recorded = SilentAt(rules.Heard(opened, WatchBench.Device, WatchBench.BeatOf(1), WatchBench.At(0)), 61);
        var unrecorded = SilentAt(rules.Heard(recorded, WatchBench.Device, WatchBench.BeatOf(1), WatchBench.At(70)), 131);
        Assert.Equal((1, 2), (recorded.Find(id)!.Silences, unrecorded.Find(id)!.Silences));

        var restarted = BeatMark.Of(unrecorded.Find(id)!).Restore(recorded, TimeSpan.FromSeconds(60));
        var raised = Assert.IsType<WatchEvent.Alerted>(Assert.Single(WatchRules.Passed(restarted, restarted.Find(id)!, WatchBench.At(140))));
        Assert.Equal(AlertId.Silent(id, 2), raised.Alert.Id);

        WatchBook SilentAt(WatchBook book, double at) => WatchRules.Passed(book, book.Find(id)!, WatchBench.At(at)).Aggregate(book, rules.Apply);
    }

    [Fact]
    public async Task Beats_of_a_person_who_does_not_answer_keep_the_link_and_not_the_deadline()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.WatchUntil(1020, checkIn: 1, from: 1);
        Assert.Equal(AlertKind.Overdue, Assert.Single(bench.Alerts).Kind);
    }

    // Kill -9 at any moment: the silence goes on over a restart, and where the tablet was last heard is still known.
    [Fact]
    public async Task A_silence_is_counted_over_a_short_restart()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Send(30, WatchBench.BeatOf(1, age: 30) with { Place = "lay-by, marker 15" });
        await bench.Pulse(31);
        await bench.Pulse(50);
        await bench.Restart(51);
        Assert.Equal(WatchBench.At(90), bench.Watch!.SilentFrom);
        Assert.Equal("lay-by, marker 15", bench.Watch.Last.Place);
        await bench.Pulse(89.9);
        Assert.Empty(bench.Alerts);
        await bench.Pulse(90);
        await bench.Restart(91);
        await bench.Pulse(92);
        Assert.Equal(AlertKind.SilentLink, Assert.Single(bench.Alerts).Kind);
    }

    [Fact]
    public async Task A_silence_that_ended_before_a_restart_does_not_hide_the_next_one()
    {
        await using var bench = await WatchBench.Start();
        await bench.Beat(0, checkIn: 1);
        await bench.Pulse(60);
        await bench.Beat(70, checkIn: 1, age: 70);
        await bench.Pulse(71);
        await bench.Restart(72);
        await bench.Pulse(130);
        Assert.Equal(2, bench.Alerts.Length);
    }
}
