using Companion.Domain.Asking;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Screens.Showing;
using Companion.Screens.Tests.Support;

namespace Companion.Screens.Tests;

/// <summary>I12: what opening found is on every screen in its own words.</summary>
public sealed class DamageTests
{
    private const string Words = "Two entries are damaged. Copy the files for the team lead.";

    [Fact]
    public void Damage_of_the_record_is_shown_before_any_job()
    {
        var screen = new ScreenBench();
        screen.Lost = screen.Lost.Add(DeviceNotice.Record, Words);
        screen.Screen.Turn();
        Assert.Equal(ViewKind.Start, screen.Screen.View.Kind);
        Assert.Equal(new Banner(BannerKind.Record, "Record damaged", Words), Assert.Single(screen.Screen.View.Banners));
    }

    // The cuff has room for the first banner only.
    [Fact]
    public void Damage_of_the_record_keeps_its_words_beside_lost_devices_and_stands_above_a_gap()
    {
        var screen = ScreenBench.At(NeedKind.WaitOver);
        screen.Bench.Time.Sleep(Ticks.OfSeconds(600));
        screen.Bench.Do(new Companion.Domain.Deciding.Tick());
        screen.Lost = screen.Lost.Add(DeviceNotice.Record, Words).Add("microphone", "It is gone.").Add("loudspeaker", "It is gone.");
        screen.Screen.Turn();

        var banners = screen.Screen.View.Banners;
        Assert.Equal([BannerKind.Record, BannerKind.Doubt, BannerKind.Device], banners.Select(banner => banner.Kind));
        Assert.Equal(Words, banners[0].Text);
        Assert.Equal("No loudspeaker, no microphone", banners[2].Title);
    }

    // Went wrong: on a tablet that had lost its voice too, the advice about plugs took the place of what the standstill was about.
    [Fact]
    public void A_standstill_keeps_its_words_beside_lost_devices()
    {
        var screen = ScreenBench.At(NeedKind.WaitOver);
        screen.Lost = screen.Lost.Add(DeviceNotice.Companion, "It stood still. Look again.").Add("loudspeaker", "It is gone.");
        screen.Screen.Turn();

        var banner = Assert.Single(screen.Screen.View.Banners);
        Assert.Equal("Stood still, no loudspeaker", banner.Title);
        Assert.Equal("It stood still. Look again. Check plugs and switches. Read the screen, answer by touch or button.", banner.Text);
    }

    // Went wrong: with a second device lost, the screen no longer said that a call for help must be made by telephone.
    [Theory]
    [InlineData("microphone", "No microphone, no watch room", "Nobody there hears you: call by telephone. Check plugs and switches. Read the screen, answer by touch or button.")]
    [InlineData(DeviceNotice.Companion, "Stood still, no watch room", "It is so. Nobody there hears you: call by telephone.")]
    public void A_silent_watch_room_keeps_its_words_beside_other_losses(string other, string title, string words)
    {
        var screen = ScreenBench.At(NeedKind.WaitOver);
        screen.Lost = screen.Lost.Add(DeviceNotice.Watchroom, "The watch room is out of reach.").Add(other, "It is so.");
        screen.Screen.Turn();

        var banner = Assert.Single(screen.Screen.View.Banners);
        Assert.Equal((title, words), (banner.Title, banner.Text));
    }
}
