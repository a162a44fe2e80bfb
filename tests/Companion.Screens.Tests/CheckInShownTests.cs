using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Deciding;
using Companion.Domain.Time;
using Companion.Screens.Showing;
using Companion.Screens.Tests.Support;
using Companion.TestKit;

namespace Companion.Screens.Tests;

/// <summary>A check-in on the screen and by the one button (I10).</summary>
public sealed class CheckInShownTests
{
    private static ScreenBench Watched()
    {
        var screen = new ScreenBench(new JobBench { Watch = DemoWatch.Even(600, 120, 60) }.Open().Prepare());
        screen.Settle();
        return screen;
    }

    private static void PassTo(ScreenBench screen, CheckInStage stage)
    {
        while (screen.Job.CheckIn!.Stage != stage)
        {
            screen.Bench.Pass(1);
        }

        screen.Settle();
    }

    [Theory]
    [InlineData(CheckInStage.Asked, "Check in", "01:00")]
    [InlineData(CheckInStage.Due, "Check in now", "02:00")]
    public void Who_is_asked_sees_it_with_the_time_that_is_left(CheckInStage stage, string title, string whole)
    {
        var screen = Watched();
        Assert.True(screen.Screen.View.IsWatchedOver);
        Assert.DoesNotContain(screen.Screen.Countdowns, countdown => countdown.State == CountdownState.CheckIn);
        PassTo(screen, stage);

        Assert.Contains(screen.Screen.View.Banners, banner => banner.Kind == BannerKind.CheckIn && banner.Title == title);
        var countdown = Assert.Single(screen.Screen.Countdowns, countdown => countdown.State == CountdownState.CheckIn);
        Assert.Equal(whole, countdown.Total);
        Assert.True(countdown.Left > Ticks.Zero);
    }

    [Fact]
    public void A_missed_one_stands_as_missed_without_a_countdown()
    {
        var screen = Watched();
        PassTo(screen, CheckInStage.Unanswered);

        Assert.Contains(screen.Screen.View.Banners, banner => banner.Kind == BannerKind.CheckIn && banner.Title == "Check-in missed");
        Assert.DoesNotContain(screen.Screen.Countdowns, countdown => countdown.State == CountdownState.CheckIn);
    }

    [Fact]
    public void A_held_key_checks_in_and_the_banner_goes()
    {
        var screen = Watched();
        PassTo(screen, CheckInStage.Due);
        screen.Touch("say:AllRight", 1300);
        Assert.Equal((Phrase.AllRight, true), (screen.LastAnswer.Phrase, screen.LastAnswer.IsHold));
        Assert.IsType<Accepted>(screen.Bench.Do(screen.LastAnswer));
        screen.Settle();
        Assert.DoesNotContain(screen.Screen.View.Banners, banner => banner.Kind == BannerKind.CheckIn);
    }

    [Fact]
    public void The_button_twice_checks_in_while_it_is_asked_for_and_asks_to_say_again_otherwise()
    {
        var screen = Watched();
        Double(screen);
        Assert.Equal(Phrase.SayAgain, screen.LastAnswer.Phrase);

        PassTo(screen, CheckInStage.Asked);
        Double(screen);
        Assert.Equal((Phrase.AllRight, By.Button), (screen.LastAnswer.Phrase, screen.LastAnswer.By));
        Assert.IsType<Accepted>(screen.Bench.Do(screen.LastAnswer));
    }

    // A body that lies on the button is no sign of life.
    [Fact]
    public void The_button_held_down_is_no_check_in()
    {
        var screen = Watched();
        PassTo(screen, CheckInStage.Due);
        screen.Button(5000);
        screen.Settle();
        Assert.NotEqual(Phrase.AllRight, screen.LastAnswer.Phrase);
    }

    // I10: nothing on the screen tells the quiet word from a check-in.
    [Fact]
    public void The_quiet_word_leaves_the_screen_as_a_check_in_does()
    {
        var (plain, quiet) = (Watched(), Watched());
        plain.Bench.Say(Phrase.AllRight);
        quiet.Bench.Say(Phrase.StatusAllRight);
        plain.Settle();
        quiet.Settle();
        Assert.Equal(plain.Screen.View.Banners, quiet.Screen.View.Banners);
        Assert.Equal((plain.Screen.View.Ask, plain.Screen.View.Kind, plain.Screen.View.Heard), (quiet.Screen.View.Ask, quiet.Screen.View.Kind, quiet.Screen.View.Heard));
        Assert.Equal(plain.Screen.Countdowns.Length, quiet.Screen.Countdowns.Length);
    }

    [Fact]
    public void A_job_that_nobody_watches_over_shows_no_key()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        Assert.False(screen.Screen.View.IsWatchedOver);
    }

    private static void Double(ScreenBench screen)
    {
        screen.Button(80);
        screen.Bench.Time.Pass(Ticks.OfMilliseconds(100));
        screen.Button(80);
        screen.Settle();
    }
}
