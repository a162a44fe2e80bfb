using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.TestKit;

namespace Companion.Engine.Tests;

/// <summary>What is said, when, how often, and what becomes of it.</summary>
public sealed class SpeakingTests
{
    // I19
    [Fact]
    public async Task An_alarm_is_given_again_until_it_is_answered()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.WaitOver);
        await bench.SayAsync(Phrase.Stop);
        bench.Speaker.Clear();
        await bench.PassAsync(40);
        Assert.InRange(bench.Speaker.Alarms.Count, 4, 6);

        await bench.SayAsync(Phrase.Affirm);
        bench.Speaker.Clear();
        await bench.PassAsync(40);
        Assert.Empty(bench.Speaker.Alarms);
    }

    // I19
    // Went wrong: a warning of seven seconds was repeated every eight, and left one second to answer it by voice.
    [Fact]
    public async Task However_long_an_alarm_is_it_leaves_eight_seconds_to_answer_before_it_is_given_again()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.WaitOver);
        bench.Speaker.Clear();
        bench.Speaker.AtOnce = false;
        await bench.SayAsync(Phrase.Stop);
        await bench.PassAsync(7);
        bench.Speaker.PlayAll();
        await bench.PassAsync(7);
        Assert.Single(bench.Speaker.Alarms);
        await bench.PassAsync(2);
        Assert.Equal(2, bench.Speaker.Alarms.Count);
    }

    [Fact]
    public async Task An_alarm_whose_prompt_failed_is_given_again()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.WaitOver);
        bench.Speaker.AtOnce = false;
        await bench.SayAsync(Phrase.Stop);
        bench.Speaker.FailAll("no loudspeaker");
        await bench.Engine.DrainAsync();
        bench.Speaker.Clear();
        await bench.PassAsync(9);
        Assert.NotEmpty(bench.Speaker.Alarms);
        Assert.Contains(bench.Journal.All, entry => entry.Type == "prompt.failed" && entry.Data.Contains("no loudspeaker", StringComparison.Ordinal));
    }

    // I19; went wrong: one receipt that never came kept the same warning from ever being given again.
    [Fact]
    public async Task A_receipt_that_never_comes_does_not_silence_the_next_warning()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.WaitOver);
        bench.Speaker.AtOnce = false;
        await bench.SayAsync(Phrase.Stop);
        await bench.SayAsync(Phrase.Affirm);
        await bench.PassAsync(60);
        bench.Speaker.Clear();
        await bench.SayAsync(Phrase.Stop);
        Assert.Contains(bench.Speaker.Alarms, alarm => alarm.StartsWith("Stop.", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_speaker_that_hangs_does_not_stop_the_job()
    {
        var bench = new EngineBench();
        bench.Speaker.AtOnce = false;
        await bench.OpenAsync();
        await bench.UntilAsync(NeedKind.Working);
        Assert.NotNull(bench.Job!.Clearance);
    }

    // Went wrong: the question of the same turn swept away what the turn had to say first.
    [Fact]
    public async Task A_statement_is_not_dropped_by_the_question_that_follows_it()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.ClaimDead);
        await bench.SayAsync(Phrase.ProvedDead);
        bench.Speaker.AtOnce = false;
        await bench.SayAsync(Phrase.AffirmCode, bench.Job!.Question!.Code);

        var waiting = bench.Speaker.Waiting.Select(prompt => prompt.Text).ToList();
        Assert.Contains(waiting, text => text.StartsWith("Recorded: proved dead at front inverter, ", StringComparison.Ordinal));
        Assert.Contains(waiting, text => text.StartsWith("Wait for rearwait.", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Prompts_of_an_old_question_are_dropped()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.OpenPoint);
        bench.Speaker.PlayAll();
        bench.Speaker.AtOnce = false;
        await bench.SayAsync(Phrase.SayAgain);
        var old = bench.Speaker.Waiting.Single(prompt => prompt.Text.StartsWith("Open lowvolt.", StringComparison.Ordinal));
        await bench.SayAsync(Phrase.Opened, by: By.Touch, held: Ticks.OfMilliseconds(1300));
        Assert.DoesNotContain(old, bench.Speaker.Waiting);
        Assert.Contains(bench.Journal.All, entry => entry.Type == "prompt.failed" && entry.Data.Contains("stale", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Time_calls_come_once_each()
    {
        var bench = await new EngineBench().OpenAsync(sheet: DemoSheets.Van(controlSeconds: 600));
        await bench.UntilAsync(NeedKind.WaitOver);
        await bench.PassAsync(620);
        var calls = bench.Speaker.All.Where(prompt => prompt.Urgency == Urgency.TimeCall).Select(prompt => prompt.Text).ToList();
        Assert.Equal(["control units, 5 minutes left.", "control units, 1 minute left.", "control units, 10 seconds left."], calls);
        Assert.Single(bench.Speaker.All, prompt => prompt.Text == "Wait over, control units, not yet tested.");
    }

    // I15
    [Fact]
    public async Task Proved_dead_and_clear_to_work_name_the_place_the_time_and_what_stays_live()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.Working);
        foreach (var said in bench.Speaker.All.Select(prompt => prompt.Text).Where(text => text.StartsWith("Recorded: proved", StringComparison.Ordinal)
            || text.StartsWith("Recorded: clear", StringComparison.Ordinal)))
        {
            Assert.Matches("2[0-9]:[0-9]{2}", said);
            Assert.Contains("inverter", said, StringComparison.Ordinal);
            Assert.Contains("Still live: both packs and the pack side of both plugs.", said, StringComparison.Ordinal);
        }
    }

    // Went wrong: a tablet without a microphone from the start said nothing of it in the job's record.
    [Fact]
    public async Task A_device_that_was_lost_before_the_job_is_lost_in_its_record_too()
    {
        var bench = await new EngineBench().StartAsync();
        bench.Engine.Post(new DeviceNotice("loudspeaker", false, "There is no loudspeaker."));
        await bench.Engine.DrainAsync();
        Assert.DoesNotContain(bench.Journal.All, entry => entry.Type == "device.lost");

        await bench.OpenAsync();
        await bench.Engine.DrainAsync();

        Assert.Single(bench.Journal.All, entry => entry.Type == "device.lost");
        Assert.Contains("loudspeaker", bench.Engine.Snapshot.Lost.Keys);
    }

    [Fact]
    public async Task A_lost_device_is_shown_said_and_journalled()
    {
        var bench = await new EngineBench().OpenAsync();
        bench.Engine.Post(new DeviceNotice("microphone", false, "The microphone is gone. Plug it in, or use the button."));
        await bench.Engine.DrainAsync();
        Assert.Contains("microphone", bench.Engine.Snapshot.Lost.Keys);
        Assert.Contains("The microphone is gone.", bench.Speaker.Words, StringComparison.Ordinal);
        Assert.Contains(bench.Journal.All, entry => entry.Type == "device.lost");

        bench.Engine.Post(new DeviceNotice("microphone", true, "It is back."));
        await bench.Engine.DrainAsync();
        Assert.Empty(bench.Engine.Snapshot.Lost);
        Assert.Contains(bench.Journal.All, entry => entry.Type == "device.returned");
    }

    [Fact]
    public async Task A_device_that_comes_and_goes_is_journalled_each_time_and_said_once_in_a_minute()
    {
        var bench = await new EngineBench().OpenAsync();
        for (var n = 0; n < 3; n++)
        {
            bench.Engine.Post(new DeviceNotice("microphone", false, "The microphone is gone."));
            bench.Engine.Post(new DeviceNotice("microphone", true, "It is back."));
            await bench.Engine.DrainAsync();
            await bench.PassAsync(15);
        }

        Assert.Single(bench.Speaker.All, prompt => prompt.Text == "The microphone is gone.");
        Assert.Equal(3, bench.Journal.All.Count(entry => entry.Type == "device.lost"));
        Assert.Equal(3, bench.Journal.All.Count(entry => entry.Type == "device.returned"));

        await bench.PassAsync(30);
        bench.Engine.Post(new DeviceNotice("microphone", false, "The microphone is gone."));
        await bench.Engine.DrainAsync();
        Assert.Equal(2, bench.Speaker.All.Count(prompt => prompt.Text == "The microphone is gone."));
    }

    // I19
    [Fact]
    public async Task Only_the_sound_check_is_marked_as_the_prompt_by_which_the_loudspeaker_is_listened_for()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.SayAsync(Phrase.SayAgain);
        Assert.Equal(2, bench.Speaker.All.Count(prompt => prompt.IsSoundCheck && prompt.Text.StartsWith("Sound check. Say affirm", StringComparison.Ordinal)));
        await bench.UntilAsync(NeedKind.WaitOver);
        Assert.Equal(2, bench.Speaker.All.Count(prompt => prompt.IsSoundCheck));
    }
}
