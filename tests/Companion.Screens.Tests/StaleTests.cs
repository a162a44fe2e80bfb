using Companion.Domain.Asking;
using Companion.Domain.Time;
using Companion.Screens.Showing;
using Companion.Screens.Tests.Support;

namespace Companion.Screens.Tests;

/// <summary>I18.</summary>
public sealed class StaleTests
{
    [Fact]
    public void Two_seconds_without_word_from_the_engine_leave_no_verdict_no_countdown_and_no_answer()
    {
        var screen = ScreenBench.At(NeedKind.Working);
        Assert.NotEmpty(screen.Screen.View.Statements);
        screen.Silence = Ticks.OfMilliseconds(1800);
        screen.Screen.Turn();

        Assert.Equal(ViewKind.NotConnected, screen.Screen.View.Kind);
        Assert.Equal("Not connected. Treat as live.", screen.Screen.View.Title);
        Assert.Empty(screen.Screen.View.Statements);
        Assert.Empty(screen.Screen.Countdowns);
        screen.Touch(Target.Primary, 2000);
        screen.Button(2000);
        Assert.Empty(screen.Posted);
    }

    [Fact]
    public void Word_from_another_running_period_is_no_word()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        var old = screen.Snapshot with { Moment = screen.Snapshot.Moment with { BootId = "another" } };

        Assert.True(new StaleGuard().IsStale(old, screen.Bench.Time.Now));
    }

    [Fact]
    public void A_hold_that_began_before_the_silence_does_not_count_after_it()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        screen.Screen.Down(1, Target.Primary, screen.Screen.View.Key, Ticks.Zero);
        screen.Silence = Ticks.OfSeconds(3);
        screen.Screen.Turn();
        screen.Silence = Ticks.Zero;
        screen.Screen.Turn();
        screen.Screen.Up(1, Ticks.OfSeconds(2));

        Assert.Empty(screen.Posted);
    }

    [Fact]
    public void It_comes_back_by_itself()
    {
        var screen = ScreenBench.At(NeedKind.Working);
        screen.Silence = Ticks.OfSeconds(3);
        screen.Screen.Turn();
        screen.Silence = Ticks.Zero;
        screen.Screen.Turn();

        Assert.Equal(ViewKind.Job, screen.Screen.View.Kind);
        Assert.NotEmpty(screen.Screen.View.Statements);
    }
}
