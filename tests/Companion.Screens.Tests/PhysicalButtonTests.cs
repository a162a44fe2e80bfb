using Companion.Domain.Asking;
using Companion.Domain.Time;
using Companion.Screens.Tests.Support;

namespace Companion.Screens.Tests;

/// <summary>The one physical button: tap, hold and double.</summary>
public sealed class PhysicalButtonTests
{
    [Fact]
    public void A_tap_is_the_usual_answer_once_no_second_one_can_follow()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);

        screen.Button(80);
        screen.Screen.Turn();
        Assert.Empty(screen.Posted);
        screen.Settle();

        Assert.Equal((Phrase.Opened, By.Button, false), (screen.LastAnswer.Phrase, screen.LastAnswer.By, screen.LastAnswer.IsHold));
    }

    [Fact]
    public void A_press_belongs_to_the_question_that_the_page_showed()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        var shown = screen.Screen.View.Key;
        screen.Bench.Claim(Phrase.Opened);
        screen.Settle();
        screen.Screen.ButtonDown(shown, Ticks.Zero);
        screen.Bench.Time.Pass(Ticks.OfMilliseconds(80));
        screen.Screen.ButtonUp(screen.Beat, Ticks.OfMilliseconds(80));
        screen.Settle();

        Assert.Equal(shown.Sequence, screen.LastAnswer.Question);
        Assert.NotEqual(shown.Sequence, screen.Job.Question!.Sequence);
    }

    [Fact]
    public void A_hold_confirms()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);

        screen.Button(1300);

        Assert.Equal((Phrase.Opened, true), (screen.LastAnswer.Phrase, screen.LastAnswer.IsHold));
    }

    [Fact]
    public void A_hold_affirms_an_echo_and_a_double_calls_it_wrong()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        screen.Bench.Say(Phrase.Opened);
        screen.Settle();

        screen.Button(1300);
        Assert.Equal((Phrase.Affirm, true), (screen.LastAnswer.Phrase, screen.LastAnswer.IsHold));

        screen.Settle();
        screen.Button(80);
        screen.Bench.Time.Pass(Ticks.OfMilliseconds(150));
        screen.Button(80);
        Assert.Equal(Phrase.Wrong, screen.LastAnswer.Phrase);
    }

    [Fact]
    public void A_double_without_an_echo_asks_to_say_it_again()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);

        screen.Button(80);
        screen.Bench.Time.Pass(Ticks.OfMilliseconds(150));
        screen.Button(80);

        Assert.Equal(Phrase.SayAgain, Assert.Single(screen.Posted.Cast<Companion.Domain.Deciding.Answer>()).Phrase);
    }

    [Fact]
    public void A_tap_just_before_a_hold_is_two_intentions_and_neither_counts()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);

        screen.Button(80);
        screen.Bench.Time.Pass(Ticks.OfMilliseconds(150));
        screen.Button(1300);
        screen.Settle();

        Assert.Empty(screen.Posted);
    }
}
