using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Time;
using Companion.Screens.Answering;
using Companion.Screens.Showing;
using Companion.Screens.Tests.Support;

namespace Companion.Screens.Tests;

/// <summary>What touches bring to the engine (I17).</summary>
public sealed class AnswerTests
{
    [Fact]
    public void An_answer_carries_the_question_of_the_finger_down()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        var shown = screen.Screen.View.Key;
        screen.Screen.Down(1, Target.Primary, shown, Ticks.Zero);
        screen.Bench.Claim(Phrase.Opened);
        screen.Bench.Time.Pass(Ticks.OfSeconds(2));
        screen.Screen.Up(1, screen.Beat, Ticks.OfSeconds(2));

        Assert.NotEqual(shown.Sequence, screen.Job.Question!.Sequence);
        Assert.Equal(shown.Sequence, screen.LastAnswer.Question);
        Assert.IsType<Refused>(screen.Bench.Do(screen.LastAnswer));
    }

    [Fact]
    public void A_hold_that_began_before_the_echo_does_not_affirm_it()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        screen.Screen.Down(1, Target.Primary, screen.Screen.View.Key, Ticks.Zero);
        screen.Bench.Say(Phrase.Opened);
        screen.Screen.Turn();
        screen.Bench.Time.Pass(Ticks.OfSeconds(2));
        screen.Screen.Up(1, screen.Beat, Ticks.OfSeconds(2));

        Assert.IsType<Refused>(screen.Bench.Do(screen.LastAnswer));
        Assert.NotNull(screen.Job.Question!.Echo);
    }

    [Fact]
    public void A_touch_on_a_stage_that_the_page_had_not_replaced_yet_is_late_even_when_the_finger_was_not()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        var old = screen.Screen.View.Key;
        screen.Bench.Say(Phrase.Opened);
        screen.Settle();
        screen.Screen.Down(1, Target.Primary, old, Ticks.Zero);
        screen.Bench.Time.Pass(Ticks.OfSeconds(2));
        screen.Screen.Up(1, screen.Beat, Ticks.OfSeconds(2));

        Assert.IsType<Refused>(screen.Bench.Do(screen.LastAnswer));
    }

    [Fact]
    public void A_hold_opens_a_point_without_a_code()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);

        screen.Touch(Target.Primary, 1300);

        Assert.IsType<Accepted>(screen.Bench.Do(screen.LastAnswer));
        Assert.Single(screen.Job.Points);
    }

    [Fact]
    public void A_tap_on_a_button_that_is_held_asks_for_the_code_and_confirms_nothing()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);

        screen.Touch(Target.Primary, 200);
        screen.Bench.Do(screen.LastAnswer);

        Assert.Empty(screen.Job.Points);
        Assert.NotNull(screen.Job.Question!.Code);
    }

    [Fact]
    public void A_reading_is_typed_and_held()
    {
        var screen = ScreenBench.At(NeedKind.TakeReading);
        foreach (var key in "12.5")
        {
            screen.Touch(Target.Of(Target.Key, key.ToString()));
        }

        screen.Touch(Target.Primary, 1300);

        Assert.Equal((Phrase.Reading, "12.5", false), (screen.LastAnswer.Phrase, screen.LastAnswer.Number, screen.LastAnswer.Below));
        Assert.IsType<Accepted>(screen.Bench.Do(screen.LastAnswer));
        Assert.Single(screen.Job.Test!.Readings);
    }

    [Fact]
    public void What_was_typed_for_one_question_is_gone_with_it()
    {
        var screen = ScreenBench.At(NeedKind.TakeReading);
        screen.Touch("key:4");
        screen.Bench.Read("3");
        screen.Settle();

        Assert.Equal(Entry.Empty, screen.Screen.View.Entry);
        Assert.Equal(NeedKind.TakeReading, screen.Job.Question!.Need.Kind);
    }

    // Went wrong: a key for one reading, touched as another was asked, was the first digit of that one.
    [Fact]
    public void A_key_that_was_touched_for_another_question_types_nothing()
    {
        var screen = ScreenBench.At(NeedKind.TakeReading);
        screen.Screen.Down(1, "key:4", screen.Screen.View.Key, Ticks.Zero);
        screen.Bench.Read("3");
        screen.Settle();
        screen.Screen.Up(1, screen.Beat, Ticks.OfMilliseconds(80));

        Assert.Equal(NeedKind.TakeReading, screen.Job.Question!.Need.Kind);
        Assert.Equal(Entry.Empty, screen.Screen.View.Entry);
    }

    [Fact]
    public void An_answer_for_the_question_that_the_app_asked_before_it_started_anew_is_refused()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        var old = screen.Screen.View.Key;
        screen.Bench.Do(new Restarted());
        screen.Settle();
        screen.Screen.Down(1, Target.Primary, old, Ticks.Zero);
        screen.Bench.Time.Pass(Ticks.OfSeconds(2));
        screen.Screen.Up(1, screen.Beat, Ticks.OfSeconds(2));

        Assert.IsType<Refused>(screen.Bench.Do(screen.LastAnswer));
        Assert.Empty(screen.Job.Points);
    }

    [Fact]
    public void Stop_acts_as_the_finger_touches_even_beside_another()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        screen.Screen.Down(1, Target.Primary, screen.Screen.View.Key, Ticks.Zero);
        screen.Screen.Down(2, Target.Third, screen.Screen.View.Key, Ticks.Zero);

        Assert.Equal(Phrase.Stop, screen.LastAnswer.Phrase);
        screen.Bench.Do(screen.LastAnswer);
        Assert.NotNull(screen.Job.Alarm);
    }

    [Fact]
    public void A_sheet_is_chosen_from_the_list_and_held()
    {
        var screen = new ScreenBench(new Companion.TestKit.JobBench().Open().Until(NeedKind.ChooseSheet));
        screen.Settle();
        var line = Assert.Single(screen.Screen.View.Sheets);
        Assert.Equal(("07", "Test van", "TV 800 on the left door pillar", 2), (line.Number, line.Vehicle, line.Marking, line.Edition));

        screen.Touch("sheet:07");
        screen.Touch(Target.Primary, 1300);

        Assert.Equal((Phrase.Sheet, "07", true), (screen.LastAnswer.Phrase, screen.LastAnswer.Number, screen.LastAnswer.IsHold));
    }

    [Fact]
    public void A_disturbance_is_reported_from_its_panel()
    {
        var screen = ScreenBench.At(NeedKind.WaitOver, 2);
        screen.Touch("panel:changed");
        Assert.Equal("changed", screen.Screen.Panel);

        screen.Touch("say:KeyOn");
        screen.Bench.Do(screen.LastAnswer);

        Assert.Empty(screen.Job.Waits);
        Assert.Equal(string.Empty, screen.Screen.Panel);
    }

    [Fact]
    public void The_hand_over_stays_open_after_the_end_though_a_question_was_left()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        screen.Bench.Do(new CloseJob("towed away"));
        screen.Settle();
        Assert.NotNull(screen.Job.Question);
        Assert.Equal(ViewKind.Ended, screen.Screen.View.Kind);

        screen.Touch("panel:handover");
        screen.Settle();

        Assert.Equal("handover", screen.Screen.Panel);
    }
}
