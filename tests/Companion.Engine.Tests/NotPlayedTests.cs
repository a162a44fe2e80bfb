using Companion.Domain.Asking;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.TestKit;

namespace Companion.Engine.Tests;

/// <summary>A prompt that cannot be played, of every kind (I19).</summary>
public sealed class NotPlayedTests
{
    [Fact]
    public async Task A_question_that_could_not_be_spoken_is_asked_again_ever_more_seldom()
    {
        var bench = await Mute(await At(NeedKind.OpenPoint));
        await bench.SayAsync(Phrase.SayAgain);
        var asked = 0;
        for (var second = 0; second < 60; second++)
        {
            asked += bench.Speaker.Waiting.Count(prompt => prompt.Text.StartsWith("Open lowvolt.", StringComparison.Ordinal));
            bench.Speaker.FailAll("synthesiser failed");
            await bench.PassAsync(1);
        }

        // At once, then after 8, 16 and 32 seconds.
        Assert.Equal(4, asked);
        Assert.Contains(bench.Journal.All, entry => entry.Type == "prompt.failed" && entry.Data.Contains("synthesiser failed", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_question_that_was_answered_meanwhile_is_not_asked_again()
    {
        var bench = await Mute(await At(NeedKind.OpenPoint));
        await bench.SayAsync(Phrase.SayAgain);
        bench.Speaker.FailAll("synthesiser failed");
        await bench.SayAsync(Phrase.Opened, by: By.Touch, held: Ticks.OfMilliseconds(1300));
        bench.Speaker.PlayAll();
        bench.Speaker.Clear();
        await bench.PassAsync(40);
        Assert.DoesNotContain("Open lowvolt.", bench.Speaker.Words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_question_is_asked_at_once_when_the_loudspeaker_is_back()
    {
        var bench = await Mute(await At(NeedKind.OpenPoint));
        await bench.SayAsync(Phrase.SayAgain);
        bench.Speaker.FailAll("no loudspeaker");
        await bench.Engine.DrainAsync();
        bench.Speaker.Clear();
        bench.Speaker.AtOnce = true;
        bench.Engine.Post(new DeviceNotice("loudspeaker", true, "The loudspeaker is back."));
        await bench.PassAsync(1);
        Assert.Single(bench.Speaker.All, prompt => prompt.Text.StartsWith("Open lowvolt.", StringComparison.Ordinal));
        await bench.PassAsync(60);
        Assert.Single(bench.Speaker.All, prompt => prompt.Text.StartsWith("Open lowvolt.", StringComparison.Ordinal));
    }

    // Only the loudspeaker tells this code: unheard, it could never be repeated.
    [Fact]
    public async Task The_code_of_the_sound_check_is_spoken_again_until_it_was_heard_and_passes_nothing_before()
    {
        var bench = new EngineBench();
        bench.Speaker.AtOnce = false;
        await bench.OpenAsync();
        bench.Speaker.FailAll("no loudspeaker");
        await bench.Engine.DrainAsync();
        await bench.PassAsync(8);
        var again = Assert.Single(bench.Speaker.Waiting);
        Assert.Equal($"Sound check. Say affirm, {Companion.Domain.Speaking.Wording.Digits(bench.Job!.Question!.Code!)}.", again.Text);
        Assert.False(bench.Job.SoundChecked);

        bench.Speaker.PlayAll();
        await bench.SayAsync(Phrase.AffirmCode, bench.Job.Question.Code);
        Assert.True(bench.Job.SoundChecked);
    }

    // An alarm that was neither heard nor answered stays; answered on the screen, it is not brought again.
    [Fact]
    public async Task An_alarm_that_never_sounds_is_tried_again_until_a_person_answers_it()
    {
        var bench = await Mute(await At(NeedKind.WaitOver));
        await bench.SayAsync(Phrase.Stop);
        var tried = await Tried(bench, 40, "no loudspeaker");
        Assert.InRange(tried, 4, 7);
        Assert.NotNull(bench.Job!.Alarm);

        await bench.SayAsync(Phrase.Affirm, by: By.Touch);
        bench.Speaker.FailAll("no loudspeaker");
        await bench.Engine.DrainAsync();
        Assert.Null(bench.Job.Alarm);
        Assert.Equal(0, await Tried(bench, 40, "no loudspeaker"));
    }

    // I16; went wrong: "not recording" was said once, into a loudspeaker that was just then away, and never again.
    [Fact]
    public async Task That_nothing_is_recorded_is_said_until_it_was_played_to_its_end()
    {
        var bench = await Mute(await At(NeedKind.WaitOver));
        bench.Journal.FailNext("The disk is full.");
        await bench.SayAsync(Phrase.HowLong);
        Assert.True(await Tried(bench, 30, "no loudspeaker") >= 2);

        bench.Speaker.AtOnce = true;
        bench.Engine.Post(new DeviceNotice("loudspeaker", true, "The loudspeaker is back."));
        await bench.PassAsync(1);
        Assert.Contains(bench.Speaker.Alarms, alarm => alarm.StartsWith("Not recording. The disk is full.", StringComparison.Ordinal));
        bench.Speaker.Clear();
        await bench.PassAsync(120);
        Assert.Empty(bench.Speaker.Alarms);
    }

    // I16, I19: without a record no alarm stands in the job, and the warning must be heard all the same.
    [Fact]
    public async Task A_stop_without_a_record_is_said_until_it_was_played_to_its_end()
    {
        var bench = await At(NeedKind.WaitOver);
        bench.Journal.FailNext("The disk is full.");
        await bench.SayAsync(Phrase.HowLong);
        await Mute(bench);
        await bench.SayAsync(Phrase.Stop);
        bench.Speaker.FailAll("synthesiser failed");
        bench.Speaker.Clear();
        bench.Speaker.AtOnce = true;
        await bench.PassAsync(10);
        Assert.Single(bench.Speaker.Alarms, alarm => alarm.StartsWith("Stop. Hands off.", StringComparison.Ordinal));
    }

    private static async Task<EngineBench> At(NeedKind kind)
    {
        var bench = await new EngineBench().OpenAsync();
        return await bench.UntilAsync(kind);
    }

    private static async Task<EngineBench> Mute(EngineBench bench)
    {
        await bench.Engine.DrainAsync();
        bench.Speaker.PlayAll();
        await bench.Engine.DrainAsync();
        bench.Speaker.AtOnce = false;
        bench.Speaker.Clear();
        return bench;
    }

    /// <summary>Seconds pass in which every prompt fails; how many alarms were tried.</summary>
    private static async Task<int> Tried(EngineBench bench, int seconds, string reason)
    {
        bench.Speaker.Clear();
        for (var second = 0; second < seconds; second++)
        {
            bench.Speaker.FailAll(reason);
            await bench.PassAsync(1);
        }

        return bench.Speaker.Alarms.Count;
    }
}
