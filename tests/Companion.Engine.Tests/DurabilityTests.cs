using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.TestKit;

namespace Companion.Engine.Tests;

/// <summary>What is said and shown against what is on the disk (I7, I16).</summary>
public sealed class DurabilityTests
{
    private static async Task<EngineBench> AtOpening()
    {
        var bench = await new EngineBench().OpenAsync();
        return await bench.UntilAsync(NeedKind.OpenPoint);
    }

    // I7
    [Fact]
    public async Task Nothing_is_spoken_or_shown_as_recorded_before_the_entry_is_durable()
    {
        var bench = await AtOpening();
        await bench.SayAsync(Phrase.Opened);
        bench.Speaker.Clear();
        bench.Journal.Hold();

        bench.Engine.Post(bench.Answer(Phrase.AffirmCode, bench.Job!.Question!.Code));
        var turn = bench.Engine.DrainAsync();
        await Task.Delay(50);

        Assert.False(turn.IsCompleted);
        Assert.Empty(bench.Speaker.All);
        Assert.Empty(bench.Job.Points);

        bench.Journal.Release();
        await turn;
        Assert.Single(bench.Job!.Points);
        Assert.Contains("Recorded: twelve volt battery open.", bench.Speaker.Words, StringComparison.Ordinal);
    }

    // I16
    [Theory]
    [InlineData(Phrase.Stop, "Stop. Hands off.")]
    [InlineData(Phrase.KeyOn, "Disturbed: key on.")]
    [InlineData(Phrase.HelpMe, "Help is asked for.")]
    public async Task A_warning_sounds_before_its_own_append_is_done(Phrase phrase, string words)
    {
        var bench = await AtOpening();
        bench.Journal.Hold();
        bench.Engine.Post(bench.Answer(phrase));
        var turn = bench.Engine.DrainAsync();

        Assert.Contains(bench.Speaker.Alarms, alarm => alarm.StartsWith(words, StringComparison.Ordinal));
        bench.Journal.Release();
        await turn;
    }

    // I16
    [Fact]
    public async Task Stop_sounds_while_another_append_hangs()
    {
        var bench = await AtOpening();
        bench.Journal.Hold();
        bench.Engine.Post(bench.Answer(Phrase.Opened));
        var turn = bench.Engine.DrainAsync();

        bench.Engine.Post(bench.Ear.Hear("stop", "stop", bench.Clock.Now()));
        await Eventually(() => bench.Speaker.Alarms.Any(alarm => alarm.StartsWith("Stop.", StringComparison.Ordinal)));

        bench.Journal.Release();
        await turn;
        Assert.NotNull(bench.Job!.Halt);
        Assert.Equal(AlarmKind.Stop, bench.Job.Alarm!.Kind);
    }

    // I16; went wrong: the first pulse that reached the recorder was never taken, so no other came and the hang was never noticed.
    [Fact]
    public async Task An_append_that_hangs_is_noticed_by_the_pulse_after_two_seconds()
    {
        var bench = await AtOpening();
        bench.Journal.Hold();
        bench.Engine.Post(bench.Answer(Phrase.Opened));
        var turn = bench.Engine.DrainAsync();
        for (var pulse = 0; pulse < 12 || (!turn.IsCompleted && pulse < 500); pulse++)
        {
            bench.Clock.Move(time => time.Pass(Ticks.OfMilliseconds(250)));
            bench.Engine.Pulse();
            await Task.Delay(20);
        }

        await turn.WaitAsync(TimeSpan.FromSeconds(10));
        Assert.False(bench.Engine.Snapshot.Recording);
        Assert.Contains("The store does not answer", bench.Engine.Snapshot.Trouble, StringComparison.Ordinal);
        Assert.Contains(bench.Speaker.Alarms, alarm => alarm.StartsWith("Not recording.", StringComparison.Ordinal));

        // The loop goes on: warnings sound, nothing else is taken.
        await bench.SayAsync(Phrase.Stop);
        Assert.Contains(bench.Speaker.Alarms, alarm => alarm.StartsWith("Stop.", StringComparison.Ordinal));
        bench.Journal.Release();
    }

    // I16
    [Fact]
    public async Task A_store_fault_voids_proofs_refuses_answers_and_lets_warnings_sound()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.TakeReading, 4);
        Assert.Single(bench.Job!.Proofs);
        bench.Journal.FailNext("The disk is full.");
        var before = bench.Journal.All.Count;

        await bench.SayAsync(Phrase.Reading, "3");

        Assert.False(bench.Engine.Snapshot.Recording);
        Assert.Empty(bench.Job.Proofs);
        Assert.Null(bench.Job.Clearance);
        Assert.Contains(bench.Speaker.Alarms, alarm => alarm.Contains("The disk is full.", StringComparison.Ordinal));

        bench.Speaker.Clear();
        await bench.SayAsync(Phrase.ProvedDead);
        Assert.Contains("Not recording. Nothing is accepted.", bench.Speaker.Words, StringComparison.Ordinal);
        await bench.SayAsync(Phrase.EngineStarted);
        Assert.Contains(bench.Speaker.Alarms, alarm => alarm.StartsWith("Disturbed: engine started.", StringComparison.Ordinal));
        Assert.Equal(before, bench.Journal.All.Count);
    }

    // I16: clear to work goes with the record.
    [Fact]
    public async Task A_store_fault_takes_clear_to_work_away()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.Working);
        Assert.NotNull(bench.Job!.Clearance);
        bench.Journal.FailNext("The disk is full.");
        await bench.SayAsync(Phrase.HowLong);
        Assert.Null(bench.Job.Clearance);
        Assert.Empty(bench.Job.Proofs);
    }

    // I13
    [Fact]
    public async Task The_job_after_a_restart_is_the_job_before_it_plus_the_gap()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.TakeReading, 4);
        var before = bench.Job!;

        var again = new EngineBench(bench.Journal.Reopen(), bench.Clock);
        again.Engine.Start();
        var rebuilt = again.Job!;
        Assert.Equal(before.Sequence, rebuilt.Sequence);
        Assert.Equal(before.Clock, rebuilt.Clock);
        Assert.Equal(before.Proofs.Keys, rebuilt.Proofs.Keys);
        Assert.Equal(before.Question, rebuilt.Question);
        Assert.Equal(before.Test!.Readings.Count, rebuilt.Test!.Readings.Count);

        await again.Engine.DrainAsync();
        Assert.True(again.Job!.Doubt);
        Assert.Equal(NeedKind.NothingTouched, again.Job.Question!.Need.Kind);
    }

    // I16
    [Fact]
    public async Task A_store_that_was_opened_with_damage_voids_the_proofs()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.TakeReading, 4);
        var again = await new EngineBench(bench.Journal.Reopen(new StoreFinding(true, "Two entries are damaged.")), bench.Clock).StartAsync();
        Assert.Empty(again.Job!.Proofs);
    }

    // I9; went wrong: the refusal went to no chain at all.
    [Fact]
    public async Task A_second_job_is_refused_and_the_refusal_stands_in_the_open_job()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.DoAsync(new Companion.Domain.Deciding.OpenJob(
            "job-2", "crew-4", "Ines", null, false, default, default, DemoKit.Complete(), DemoTime.Start));
        Assert.Equal("job-1", bench.Job!.Id);
        Assert.Equal(["job-1"], bench.Journal.ChainNames());
        Assert.Equal("step.refused", bench.Journal.All[^1].Type == "prompt.spoken" ? bench.Journal.All[^2].Type : bench.Journal.All[^1].Type);
        Assert.Contains("A job is already open.", bench.Speaker.Words, StringComparison.Ordinal);
    }

    // I13
    [Fact]
    public async Task A_sheet_that_is_edited_during_a_job_does_not_change_the_job()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.OpenPoint);
        bench.Sheets.Replace(DemoSheets.Van(60, 60, 60) with { Edition = 3 });
        await bench.UntilAsync(NeedKind.WaitOver);
        Assert.Equal(120, bench.Job!.Waits[new("controlwait")].Rule.Seconds);
        Assert.Equal(2, bench.Job.Sheet!.Edition);
        var again = await new EngineBench(bench.Journal.Reopen(), bench.Clock, bench.Sheets).StartAsync();
        Assert.Equal(2, again.Job!.Sheet!.Edition);
    }

    private static async Task Eventually(Func<bool> holds)
    {
        for (var attempt = 0; attempt < 500 && !holds(); attempt++)
        {
            await Task.Delay(10);
        }

        Assert.True(holds());
    }
}
