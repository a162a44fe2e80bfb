using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Review.Replaying;
using Companion.Screens.Showing;
using Companion.TestKit;

namespace Companion.Review.Tests.Replaying;

public sealed class JobReplayTests
{
    [Fact]
    public async Task Between_two_entries_the_countdown_stands_where_it_stood()
    {
        var bench = await (await new EngineBench().OpenAsync()).UntilAsync(NeedKind.WaitOver);
        await bench.PassAsync(25);
        var replay = new JobReplay(RecordedJob.Of("job-1", bench.Journal.Read("job-1")));
        var tick = replay.Record.Entries.Last(entry => entry.Entry.Type == "clock.anchored");

        var now = ReplayScreen.At(replay, tick.Since);
        var then = ReplayScreen.At(replay, tick.Since - TimeSpan.FromSeconds(4));

        Assert.Equal(CountdownState.Running, now.Countdowns[0].State);
        Assert.Equal(Ticks.OfSeconds(4), then.Countdowns[0].Left - now.Countdowns[0].Left);
        Assert.Equal(now.Wall - TimeSpan.FromSeconds(4), then.Wall);
    }

    // I2, I18: no entry tells when the tablet went off, and so not what its screen showed.
    [Fact]
    public async Task While_the_Companion_was_off_no_verdict_and_no_countdown_is_shown()
    {
        var bench = await (await new EngineBench().OpenAsync()).UntilAsync(NeedKind.WaitOver);
        bench.Clock.Pass(300);
        var again = await new EngineBench(bench.Journal.Reopen(), bench.Clock).StartAsync();
        var replay = new JobReplay(RecordedJob.Of("job-1", again.Journal.Read("job-1")));
        var start = replay.Record.Entries.Last(entry => entry.Entry.Type == "clock.anchored");

        var off = ReplayScreen.At(replay, start.Since - TimeSpan.FromSeconds(100));
        var back = ReplayScreen.At(replay, start.Since);

        Assert.NotNull(off.Unknown);
        Assert.Empty(off.Countdowns);
        Assert.Empty(off.View.Statements);
        Assert.Null(back.Unknown);
        Assert.Equal(CountdownState.InDoubt, back.Countdowns[0].State);
    }

    [Fact]
    public async Task A_jump_finds_the_next_and_the_one_before_of_its_kind()
    {
        var bench = await (await new EngineBench().OpenAsync()).UntilAsync(NeedKind.WaitOver);
        await bench.SayAsync(Phrase.ProvedDead);
        await bench.PassAsync(2);
        await bench.SayAsync(Phrase.ProvedDead);
        var record = RecordedJob.Of("job-1", bench.Journal.Read("job-1"));
        var refusals = record.Entries.Select((entry, index) => (entry, Count: index + 1)).Where(one => one.entry.Entry.Type is "step.refused" or "dead.refused").Select(one => one.Count).ToList();
        var marks = Landmarks.Of(record);

        Assert.Equal(2, refusals.Count(count => record.Entries[count - 1].Entry.Type == "dead.refused"));
        Assert.Equal(refusals[0], marks.Next(Landmark.Refusal, 0));
        Assert.Equal(refusals[1], marks.Next(Landmark.Refusal, refusals[0]));
        Assert.Equal(refusals[0], marks.Previous(Landmark.Refusal, refusals[1]));
        Assert.Null(marks.Previous(Landmark.Refusal, refusals[0]));
        Assert.Null(marks.Next(Landmark.Refusal, refusals[^1]));
        Assert.Equal(refusals.Count, marks.Number(Landmark.Refusal));
    }

    [Fact]
    public async Task Words_are_shown_until_they_are_erased_and_a_check_in_never_tells_its_wording()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.HearAsync("opened", "opened", HearingOutcome.Unsure);
        var words = JobAfterAll(bench.Journal);
        await bench.HearAsync("statusallright", "status all right", HearingOutcome.Unsure);
        var checkIn = JobAfterAll(bench.Journal);
        bench.Journal.EraseSealed();
        var erased = JobAfterAll(bench.Journal);

        Assert.Equal("opened", words.View.Heard!.Words);
        Assert.StartsWith("Ines", words.View.People, StringComparison.Ordinal);
        Assert.Equal(ReplayFold.CheckIn, checkIn.View.Heard!.Words);
        Assert.Equal(ReplayFold.Erased, erased.View.Heard!.Words);
        Assert.StartsWith(ReplayFold.Erased, erased.View.People, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_device_that_was_lost_stands_on_the_screen_until_it_returned()
    {
        var bench = await new EngineBench().OpenAsync();
        bench.Engine.Post(new DeviceNotice("microphone", false, "Plug it in."));
        await bench.Engine.DrainAsync();
        var lost = JobAfterAll(bench.Journal);
        bench.Engine.Post(new DeviceNotice("microphone", true, string.Empty));
        await bench.Engine.DrainAsync();

        Assert.Contains(lost.View.Banners, banner => banner is { Kind: BannerKind.Device, Text: "Plug it in." });
        Assert.DoesNotContain(JobAfterAll(bench.Journal).View.Banners, banner => banner.Kind == BannerKind.Device);
    }

    [Fact]
    public void A_record_of_any_length_keeps_a_bounded_number_of_states()
    {
        var tick = new JournalEntry(
            "job-1", 1, "of.another.kind", DemoTime.Start, "boot-1", 0, false, "{}", "h", "h", ReadOnlyMemory<byte>.Empty, new Dictionary<string, SealedText>());
        var replay = new JobReplay(RecordedJob.Of("job-1", Enumerable.Range(1, 100_000).Select(sequence => tick with { Sequence = sequence })));

        Assert.Equal(100_000, replay.After(int.MaxValue).Count);
        Assert.InRange(replay.Kept, 900, JobReplay.MostKept + 1);
        Assert.Equal(4321, replay.After(4321).Count);
    }

    [Fact]
    public void An_empty_record_shows_no_job()
    {
        var screen = ReplayScreen.At(new JobReplay(RecordedJob.Of("job-1", [])), TimeSpan.FromHours(1));

        Assert.Equal(ViewKind.Start, screen.View.Kind);
        Assert.Equal(TimeSpan.Zero, screen.Since);
    }

    private static ReplayScreen JobAfterAll(MemoryJournal journal)
    {
        var replay = new JobReplay(RecordedJob.Of("job-1", journal.Read("job-1")));
        return ReplayScreen.After(replay, int.MaxValue);
    }
}
