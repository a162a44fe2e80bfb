using Companion.Domain.Asking;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.TestKit;

namespace Companion.Engine.Tests;

/// <summary>The loop stood still for a while, awake: what waited for it, and what the time counts for (I2, I17, I18).</summary>
public sealed class StandstillTests
{
    // Went wrong: an answer that had waited in a loop that hung was taken minutes later, long after every screen had said that none is.
    [Theory]
    [InlineData(1900, true)]
    [InlineData(2100, false)]
    [InlineData(60_000, false)]
    public async Task An_answer_that_waited_two_seconds_for_the_loop_belongs_to_no_question(int milliseconds, bool counts)
    {
        var bench = await At(NeedKind.OpenPoint);
        bench.Engine.Post(bench.Answer(Phrase.Opened, by: By.Touch, held: Ticks.OfMilliseconds(1300)));
        bench.Clock.Move(time => time.Pass(Ticks.OfMilliseconds(milliseconds)));
        await bench.Engine.DrainAsync();

        Assert.Equal(counts ? 1 : 0, bench.Job!.Points.Count);
        Assert.Equal(counts ? 0 : 1, bench.Journal.All.Count(entry => entry.Type == "step.refused"));
    }

    // Went wrong: a hold that ended 1.4 s into a hang of 3.3 s handed the vehicle over, although every page had covered itself meanwhile.
    [Theory]
    [InlineData(600, true)]
    [InlineData(1900, false)]
    public async Task An_answer_that_came_while_the_loop_stood_still_belongs_to_no_question(int milliseconds, bool counts)
    {
        var bench = await At(NeedKind.OpenPoint);
        bench.Clock.Move(time => time.Pass(Ticks.OfMilliseconds(1300)));
        var answer = bench.Answer(Phrase.Opened, by: By.Touch, held: Ticks.OfMilliseconds(1300));
        bench.Engine.Pulse();
        bench.Engine.Post(answer);
        bench.Clock.Move(time => time.Pass(Ticks.OfMilliseconds(milliseconds)));
        await bench.Engine.DrainAsync();

        Assert.Equal(counts ? 1 : 0, bench.Job!.Points.Count);
        Assert.Equal(counts ? 0 : 1, bench.Journal.All.Count(entry => entry.Type == "step.refused"));
    }

    [Fact]
    public async Task Speech_that_waited_for_the_loop_belongs_to_no_question()
    {
        var bench = await At(NeedKind.OpenPoint);
        bench.Engine.Post(bench.Ear.Hear("opened", "opened", bench.Clock.Now()));
        bench.Clock.Pass(5);
        await bench.Engine.DrainAsync();
        Assert.Null(bench.Job!.Question!.Echo);
        Assert.Contains("began before the present question", bench.Speaker.Words, StringComparison.Ordinal);
    }

    // I16
    [Fact]
    public async Task A_stop_counts_however_long_it_waited()
    {
        var bench = await At(NeedKind.OpenPoint);
        bench.Engine.Post(bench.Answer(Phrase.Stop));
        bench.Clock.Pass(60);
        await bench.Engine.DrainAsync();
        Assert.NotNull(bench.Job!.Alarm);
    }

    // I2: awake and running, though not turning, it is CLOCK_BOOTTIME; beyond a missed anchor nobody can tell from a sleep, so it is none.
    [Theory]
    [InlineData(3, 117)]
    [InlineData(14, 106)]
    [InlineData(16, 120)]
    public async Task A_standstill_counts_in_full_up_to_a_missed_anchor_and_then_not_at_all(int seconds, int left)
    {
        var bench = await At(NeedKind.WaitOver);
        var wait = bench.Job!.Waits[new("controlwait")];
        Assert.Equal(120, wait.Remaining(bench.Job.Clock.CountedAt(bench.Clock.Now())).SecondsRoundedUp);

        bench.Clock.Pass(seconds);
        bench.Engine.Pulse();
        await bench.Engine.DrainAsync();

        Assert.Equal(left, wait.Remaining(bench.Job!.Clock.CountedAt(bench.Clock.Now())).SecondsRoundedUp);
        Assert.Equal(seconds > 15, bench.Job.Doubt);
    }

    // I2. Went wrong: a device that was missing at the start reported before the restart was told, and the time without the Companion was waited.
    [Fact]
    public async Task What_a_device_reports_before_the_start_comes_after_the_gap()
    {
        var bench = await At(NeedKind.WaitOver);
        await bench.PassAsync(115);
        var counted = bench.Job!.Clock.Counted;
        var again = new EngineBench(bench.Journal.Reopen(), bench.Clock);
        again.Engine.Post(new DeviceNotice("microphone", false, "There is no microphone."));
        bench.Clock.Pass(8);
        again.Engine.Start();
        await again.Engine.DrainAsync();
        Assert.DoesNotContain(again.Journal.All, entry => entry.Type == "wait.completed");
        Assert.Equal(counted, again.Job!.Clock.Counted);
        Assert.True(again.Job.Doubt);
        Assert.Contains(again.Journal.All, entry => entry.Type == "device.lost");
    }

    private static async Task<EngineBench> At(NeedKind kind)
    {
        var bench = await new EngineBench().OpenAsync();
        return await bench.UntilAsync(kind);
    }
}
