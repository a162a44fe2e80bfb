using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Speaking;
using Companion.Engine.Ports;
using Companion.TestKit;

namespace Companion.Engine.Tests;

/// <summary>The watch over a lone worker as it is heard, said and kept (I10).</summary>
public sealed class CheckInTests
{
    private static async Task<EngineBench> BenchAsync(CheckInPolicy? policy = null)
    {
        var bench = new EngineBench { Watch = policy ?? DemoWatch.Even(600, 120, 30) };
        return await bench.OpenAsync();
    }

    [Fact]
    public async Task It_is_said_softly_first_then_as_a_warning_and_no_longer_once_somebody_checked_in()
    {
        var bench = await BenchAsync();
        await bench.PassAsync(580);
        Assert.Contains(bench.Speaker.All, prompt => prompt.Text.StartsWith("Check in, please", StringComparison.Ordinal) && prompt.Urgency == Urgency.Step);
        bench.Speaker.Clear();
        await bench.PassAsync(70);
        Assert.InRange(bench.Speaker.Alarms.Count(text => text == CheckInWording.Now), 3, 4);

        await bench.HearAsync("allright", "i am all right");
        bench.Speaker.Clear();
        await bench.PassAsync(400);
        Assert.Empty(bench.Speaker.Alarms);
    }

    [Fact]
    public async Task A_check_in_is_heard_at_any_moment_of_a_job_that_is_watched_over_and_of_no_other()
    {
        var watched = await BenchAsync();
        Assert.True(watched.Ear.MayHear("allright"));
        await watched.HearAsync("allright", "i am all right", HearingOutcome.Unsure);
        Assert.DoesNotContain(watched.Journal.All, entry => entry.Type == "checkin.made");

        var plain = await new EngineBench().OpenAsync();
        Assert.False(plain.Ear.MayHear("allright"));
    }

    // What asked for a check-in and could not be played is not owed once somebody checked in.
    [Fact]
    public async Task A_request_that_could_not_be_played_is_not_repeated_after_the_check_in()
    {
        var bench = await BenchAsync();
        bench.Speaker.AtOnce = false;
        await bench.PassAsync(601);
        bench.Speaker.FailAll("no loudspeaker");
        await bench.SayAsync(Phrase.AllRight);
        bench.Speaker.AtOnce = true;
        bench.Speaker.Clear();
        await bench.PassAsync(120);
        Assert.DoesNotContain(CheckInWording.Now, bench.Speaker.Alarms);
    }

    [Fact]
    public async Task After_a_restart_the_deadline_is_the_same()
    {
        var before = await BenchAsync();
        await before.PassAsync(300);
        var after = await new EngineBench(before.Journal, before.Clock).StartAsync();
        await after.PassAsync(299);
        Assert.NotEqual(CheckInStage.Due, after.Job!.CheckIn!.Stage);
        await after.PassAsync(1);
        Assert.Equal(CheckInStage.Due, after.Job!.CheckIn!.Stage);
    }

    // I10: nothing in the plain record tells the quiet word from a check-in.
    [Fact]
    public async Task The_quiet_word_shows_only_in_what_is_sealed()
    {
        var bench = await BenchAsync();
        await bench.HearAsync("statusallright", "status all right");
        var made = Assert.Single(bench.Journal.All, entry => entry.Type == "checkin.made");
        Assert.DoesNotContain("quiet", made.Data, StringComparison.OrdinalIgnoreCase);
        Assert.Equal("quiet", made.Sealed["kind"].Text);
        Assert.DoesNotContain(bench.Journal.All, entry => entry.Data.Contains("status", StringComparison.OrdinalIgnoreCase));
    }

    // I23: with no signal "help me" says so.
    [Fact]
    public async Task Who_asks_for_help_hears_that_the_watch_room_does_not_answer()
    {
        const string alone = "The watch room does not hear you.";
        var bench = await BenchAsync();
        bench.Engine.Post(new DeviceNotice(DeviceNotice.Watchroom, false, "The watch room is out of reach."));
        await bench.SayAsync(Phrase.HelpMe);
        Assert.Contains(alone, bench.Speaker.Words, StringComparison.Ordinal);

        bench.Speaker.Clear();
        bench.Engine.Post(new DeviceNotice(DeviceNotice.Watchroom, true, "The watch room answers."));
        await bench.SayAsync(Phrase.Affirm);
        await bench.SayAsync(Phrase.HelpMe);
        Assert.DoesNotContain(alone, bench.Speaker.Words, StringComparison.Ordinal);
    }
}
