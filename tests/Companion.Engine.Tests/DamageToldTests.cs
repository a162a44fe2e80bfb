using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.TestKit;

namespace Companion.Engine.Tests;

/// <summary>I12: damage of the record is told to the technician, and stands until a person has answered (I19).</summary>
public sealed class DamageToldTests
{
    private const string Words = "Two entries are damaged. The files are kept: copy them for the team lead.";

    [Fact]
    public async Task Damage_found_with_an_open_job_is_said_journalled_and_stands_until_a_person_has_answered()
    {
        var bench = await ReopenedAsync(new StoreFinding(true, Words, "page 7"));
        Assert.Contains("Two entries are damaged. Read the screen.", bench.Speaker.Alarms);
        Assert.Equal(Words, Shown(bench));
        Assert.Contains(bench.Journal.All, entry => entry.Type == "device.lost" && entry.Data.Contains("\"record\"", StringComparison.Ordinal));
        Assert.DoesNotContain("page 7", bench.Speaker.Words, StringComparison.Ordinal);

        await bench.PassAsync(30);
        await bench.SayAsync(Phrase.SayAgain);
        await bench.SayAsync(Phrase.Stop);
        Assert.Equal(Words, Shown(bench));

        await bench.SayAsync(Phrase.Affirm);
        Assert.Null(bench.Job!.Alarm);
        Assert.Null(Shown(bench));
        Assert.Single(bench.Journal.All, entry => entry.Type == "device.returned");
    }

    [Fact]
    public async Task Damage_found_without_a_job_stands_until_an_answer_in_the_next_one()
    {
        var bench = await new EngineBench(new MemoryJournal().Reopen(new StoreFinding(true, Words))).StartAsync();
        Assert.Contains("Two entries are damaged. Read the screen.", bench.Speaker.Alarms);
        await bench.PassAsync(100);
        Assert.Single(bench.Speaker.Alarms);
        Assert.Equal(Words, Shown(bench));

        await bench.DoAsync(new OpenJob("job-1", "crew-4", "Ines", "Marit", false, default, default, DemoKit.Complete(), DemoTime.Start));
        Assert.Equal(Words, Shown(bench));
        Assert.Equal(2, bench.Speaker.Alarms.Count);
        Assert.Single(bench.Journal.All, entry => entry.Type == "device.lost");

        await bench.AnswerRightlyAsync();
        Assert.Null(Shown(bench));
    }

    // Went wrong: without a job nothing that had not been heard was said again.
    [Fact]
    public async Task Damage_that_no_loudspeaker_could_say_is_said_once_there_is_one()
    {
        var bench = new EngineBench(new MemoryJournal().Reopen(new StoreFinding(true, Words)));
        bench.Speaker.AtOnce = false;
        await bench.StartAsync();
        bench.Speaker.FailAll("no loudspeaker");
        await bench.PassAsync(20);
        Assert.True(bench.Speaker.Alarms.Count >= 2);
    }

    [Fact]
    public async Task What_opening_mended_is_not_spoken_of_and_several_damages_are_told_together()
    {
        var mended = await ReopenedAsync(new StoreFinding(false, "The last write was dropped. Nothing is missing."));
        Assert.Empty(mended.Engine.Snapshot.Lost);
        Assert.DoesNotContain("dropped", mended.Speaker.Words, StringComparison.Ordinal);

        var damaged = await ReopenedAsync(new StoreFinding(true, Words), new StoreFinding(true, "The names were damaged."));
        Assert.Equal($"{Words} The names were damaged.", Shown(damaged));
        Assert.Contains("Two entries are damaged. The names were damaged. Read the screen.", damaged.Speaker.Alarms);
    }

    [Fact]
    public async Task An_answer_that_began_before_a_notice_was_told_did_not_answer_it()
    {
        var bench = await new EngineBench().OpenAsync();
        var early = bench.Answer(Phrase.HowLong);
        bench.Clock.Move(time => time.Pass(Ticks.OfMilliseconds(500)));
        bench.Engine.Post(new DeviceNotice(DeviceNotice.Companion, false, "It stood still.") { Warning = "It stood still." });
        await bench.DoAsync(early);
        Assert.Contains(DeviceNotice.Companion, bench.Engine.Snapshot.Lost.Keys);

        await bench.SayAsync(Phrase.HowLong);
        Assert.Empty(bench.Engine.Snapshot.Lost);
    }

    [Fact]
    public async Task An_answer_ends_no_plain_notice()
    {
        var bench = await new EngineBench().OpenAsync();
        bench.Engine.Post(new DeviceNotice("microphone", false, "The microphone is gone."));
        await bench.Engine.DrainAsync();
        await bench.SayAsync(Phrase.HowLong);
        await bench.SayAsync(Phrase.HowLong);
        Assert.Contains("microphone", bench.Engine.Snapshot.Lost.Keys);
    }

    private static string? Shown(EngineBench bench) => bench.Engine.Snapshot.Lost.GetValueOrDefault(DeviceNotice.Record);

    private static async Task<EngineBench> ReopenedAsync(params StoreFinding[] findings)
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.TakeReading, 4);
        return await new EngineBench(bench.Journal.Reopen(findings), bench.Clock).StartAsync();
    }
}
