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
        screen.Screen.Up(1, screen.Beat, Ticks.OfSeconds(2));

        Assert.Empty(screen.Posted);
    }

    // Went wrong: what had waited on its way while the app stood still was an answer when it woke.
    [Fact]
    public void A_touch_that_the_page_made_two_seconds_ago_belongs_to_no_question()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        var beat = screen.Beat;
        screen.Screen.Down(1, Target.Primary, screen.Screen.View.Key, Ticks.Zero);
        screen.Bench.Time.Pass(Ticks.OfMilliseconds(1800));
        screen.Screen.Turn();
        screen.Screen.Up(1, beat, Ticks.OfMilliseconds(80));

        Assert.Equal(0, screen.LastAnswer.Question);
        Assert.IsType<Companion.Domain.Deciding.Refused>(screen.Bench.Do(screen.LastAnswer));
    }

    // I16
    [Fact]
    public void A_report_of_a_change_counts_however_late_it_comes()
    {
        var screen = ScreenBench.At(NeedKind.WaitOver, 2);
        var beat = screen.Beat;
        screen.Screen.Down(1, "say:KeyOn", screen.Screen.View.Key, Ticks.Zero);
        screen.Bench.Time.Pass(Ticks.OfSeconds(4));
        screen.Screen.Turn();
        screen.Screen.Up(1, beat, Ticks.OfMilliseconds(80));
        screen.Bench.Do(screen.LastAnswer);

        Assert.Empty(screen.Job.Waits);
    }

    [Fact]
    public void A_press_of_the_one_button_that_was_long_on_its_way_says_nothing()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        var beat = screen.Beat;
        screen.Screen.ButtonDown(screen.Screen.View.Key, Ticks.Zero);
        screen.Bench.Time.Pass(Ticks.OfMilliseconds(1800));
        screen.Screen.ButtonUp(beat, Ticks.OfMilliseconds(80));
        screen.Settle();

        Assert.Empty(screen.Posted);
    }

    [Fact]
    public void A_late_touch_opens_no_job()
    {
        var screen = new ScreenBench();
        screen.Screen.Turn();
        screen.Touch("technician:maren");
        screen.Touch("secondperson");
        screen.Touch("kit:standard");
        screen.Screen.Down(1, Target.Open, screen.Screen.View.Key, Ticks.Zero);
        var beat = screen.Beat;
        screen.Bench.Time.Pass(Ticks.OfMilliseconds(1800));
        screen.Screen.Up(1, beat, Ticks.OfMilliseconds(1700));
        Assert.Empty(screen.Posted);

        screen.Touch(Target.Open, 1300);
        Assert.Single(screen.Posted);
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
