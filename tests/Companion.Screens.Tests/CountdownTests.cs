using Companion.Domain.Asking;
using Companion.Domain.Time;
using Companion.Screens.Showing;
using Companion.Screens.Tests.Support;
using Companion.TestKit;
using CsCheck;

namespace Companion.Screens.Tests;

public sealed class CountdownTests
{
    [Theory]
    [InlineData(0, "00:00")]
    [InlineData(1, "00:01")]
    [InlineData(999, "00:01")]
    [InlineData(1000, "00:01")]
    [InlineData(1001, "00:02")]
    [InlineData(59_001, "01:00")]
    [InlineData(4_500_000, "75:00")]
    public void What_is_left_is_rounded_up(int milliseconds, string shown) =>
        Assert.Equal(shown, Countdown.Clock(Ticks.OfMilliseconds(milliseconds)));

    [Fact]
    public void A_countdown_is_right_within_a_tenth_of_a_second_whatever_turns_of_the_screen_were_missed() =>
        Gen.Int[1, 9_000].List[1, 30].Sample(strides =>
        {
            var screen = ScreenBench.At(NeedKind.OpenPoint, 2);
            var started = screen.Bench.Job!.Waits.Values.First(run => run.Rule.Name == "control units");
            var turned = Ticks.Zero;
            foreach (var stride in strides)
            {
                screen.Bench.Time.Pass(Ticks.OfMilliseconds(stride));
                screen.Bench.Do(new Companion.Domain.Deciding.Tick());
                screen.Screen.Turn();
                turned += Ticks.OfMilliseconds(stride);
                var left = started.Remaining(screen.Job.Clock.CountedAt(screen.Bench.Time.Now));
                var shown = screen.Screen.Countdowns.First(countdown => countdown.Name == "control units").Left;
                var error = shown - (screen.Job.Waits[started.Rule.Id].CompletedAt is null ? left : Ticks.Zero);
                Assert.InRange(error.Nanoseconds, -100_000_000, 100_000_000);
            }
        }, iter: 30);

    [Fact]
    public void A_wait_that_is_over_says_that_nothing_was_tested()
    {
        var screen = ScreenBench.At(NeedKind.ProveTester);

        var front = screen.Screen.Countdowns.Single(countdown => countdown.Name == "front link");

        Assert.Equal("over, not yet tested", front.StateWords);
        Assert.Equal("running", screen.Screen.Countdowns[0].StateWords);
        Assert.Equal("rear link", screen.Screen.Countdowns[0].Name);
    }

    // I15: the control units are fed at both test places, and only the front one is proved.
    [Fact]
    public void A_wait_of_a_circuit_that_is_proved_at_one_of_two_places_was_shown_as_proved_dead()
    {
        var screen = ScreenBench.At(NeedKind.ProveTester, 3);
        Assert.Equal("over, proved dead", screen.Screen.Countdowns.Single(countdown => countdown.Name == "front link").StateWords);
        Assert.Equal("over, not yet tested", screen.Screen.Countdowns.Single(countdown => countdown.Name == "control units").StateWords);
        Assert.Equal("over, proved dead", ScreenBench.At(NeedKind.Working).Screen.Countdowns.Single(countdown => countdown.Name == "control units").StateWords);
    }

    // What another way had opened is closed last: "3 of 3 closed" was shown while it still stood open.
    [Fact]
    public void A_point_that_was_left_for_another_way_counts_among_those_to_be_closed()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint, 3);
        screen.Bench.Say(Phrase.KeyOn);
        screen.Bench.Until(NeedKind.OpenPoint, 2);
        screen.Bench.Say(Phrase.CannotDo);
        screen.Bench.Say(Phrase.CannotReach);
        screen.Bench.Claim(Phrase.OtherWay);
        screen.Bench.Until(NeedKind.Working);
        screen.Bench.Claim(Phrase.WorkDone);
        screen.Screen.Turn();
        Assert.Equal("Putting back, 0 of 4 closed", screen.Screen.View.Place);
    }

    [Fact]
    public void After_a_sleep_a_countdown_says_that_it_is_in_doubt()
    {
        var screen = ScreenBench.At(NeedKind.WaitOver, 2);
        screen.Bench.Time.Sleep(Ticks.OfSeconds(600));
        screen.Bench.Do(new Companion.Domain.Deciding.Tick());
        screen.Screen.Turn();

        Assert.Contains(screen.Screen.Countdowns, countdown => countdown is { State: CountdownState.InDoubt, Remaining: not "00:00" });
        Assert.Contains(screen.Screen.View.Banners, banner => banner.Kind == BannerKind.Doubt);
    }

    [Fact]
    public void The_time_for_the_dead_test_and_for_the_next_test_are_counted_too()
    {
        Assert.Contains(ScreenBench.At(NeedKind.TakeReading).Screen.Countdowns, countdown => countdown.Name == "dead test, front inverter");
        Assert.Contains(ScreenBench.At(NeedKind.Working).Screen.Countdowns, countdown => countdown.Name == "next test");
    }

    [Fact]
    public void A_turn_in_which_no_second_passed_brings_no_change_but_a_turn_of_the_beat()
    {
        var screen = ScreenBench.At(NeedKind.WaitOver, 2);
        var changes = 0;
        screen.Screen.PropertyChanged += (_, _) => changes++;

        for (var turn = 0; turn < 20; turn++)
        {
            screen.Bench.Time.Pass(Ticks.OfMilliseconds(100));
            screen.Screen.Turn();
        }

        Assert.InRange(changes, 2, 20);
    }
}
