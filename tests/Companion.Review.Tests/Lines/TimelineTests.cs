using Companion.Contracts;
using Companion.Domain;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Time;
using Companion.Engine.Codec;
using Companion.Review.Lines;
using Companion.TestKit;
using CsCheck;

namespace Companion.Review.Tests.Lines;

public sealed class TimelineTests
{
    private static readonly DateTimeOffset Start = new(2031, 5, 4, 21, 0, 0, TimeSpan.Zero);

    [Fact]
    public async Task Each_entry_of_a_job_is_one_mark_or_is_counted_as_not_shown_and_a_wait_counts_as_the_rules_count()
    {
        var bench = await new EngineBench().OpenAsync();
        await bench.UntilAsync(NeedKind.ClaimDead);
        var record = RecordedJob.Of("job-1", bench.Journal.Read("job-1"));

        var line = Timeline.Of(record);

        Assert.Equal(record.Entries.Length, line.Marks.Length + line.NotShown);
        Assert.Equal(line.Marks.Length, line.Marks.Select(mark => mark.Sequence).Distinct().Count());
        Assert.NotEmpty(line.Waits);
        Assert.All(line.Waits.Where(bar => bar.End == WaitEnd.Completed), bar => Assert.True(bar.CountedSeconds >= bar.RequiredSeconds, bar.ToString()));
        Assert.Equal(record.Entries.Count(entry => entry.Happened is ReadingTaken), line.Readings.Length);
        Assert.All(line.Readings, point => Assert.NotNull(point.Limit));
    }

    [Fact]
    public void A_voided_wait_tells_its_reason_and_what_was_counted_without_the_gap()
    {
        var job = Record(
            (0, new WaitStarted(new WaitId("link"), new CircuitId("dc"), 300)),
            (10, new ClockAnchored(AnchorReason.Tick, Ticks.OfSeconds(10))),
            (110, new ClockAnchored(AnchorReason.Resume, Ticks.OfSeconds(20))),
            (115, new WaitVoided(new WaitId("link"), new CircuitId("dc"), "the key was on")));

        var line = Timeline.Of(job);

        var bar = Assert.Single(line.Waits);
        Assert.Equal((WaitEnd.Voided, 300, 15L, "the key was on"), (bar.End, bar.RequiredSeconds, bar.CountedSeconds, bar.Reason));
        Assert.Equal((10L, 110L), (line.Breaks[0].From / Ticks.PerSecond, line.Breaks[0].To / Ticks.PerSecond));
        Assert.Equal(1, line.NotShown);
    }

    [Fact]
    public void Thinning_keeps_every_meaning_and_loses_no_count() => Gen.Select(Gen.Int[0, 500], Gen.Bool).List[1, 300].Sample(marks =>
    {
        var at = 0;
        var line = Timeline.Of(Record([.. marks.Select(each => (at += each.Item1, each.Item2
            ? (JobEvent)new PromptSpoken("words")
            : new StepRefused("step", By.Voice, 900, "too early", 0)))]));

        var sight = Sight.Of(line, 0, line.Length, 60);

        Assert.Equal(line.Marks.Length, sight.Clusters.Sum(cluster => cluster.Count));
        Assert.True(sight.Clusters.Length <= 7 * 7 * 60);
        Assert.Equal(line.Marks.Any(mark => mark.Kind == MarkKind.Refusal), sight.Clusters.Any(cluster => cluster.First.Kind == MarkKind.Refusal));
        Assert.All(sight.Clusters, cluster => Assert.InRange(cluster.Column, 0, 59));
    }, iter: 100);

    private static RecordedJob Record(params (int Second, JobEvent Event)[] happened) => RecordedJob.Of("j", [.. happened.Prepend((0, Opened())).Select((each, index) => Entry(index + 1, each.Item1, each.Item2))]);

    private static JobEvent Opened() => new JobOpened(
        "7", new Personal("Maren Oake"), null, true, Companion.Domain.Isolation.ExposurePolicy.SecondPerson, Companion.Domain.Kit.RatingPolicy.AcFigure, [], Start, Ticks.Zero);

    private static JournalEntry Entry(long sequence, int second, JobEvent happened)
    {
        var draft = EventCodec.Draft("j", happened, new Moment(Start.AddSeconds(second), "boot", Ticks.OfSeconds(second), Ticks.Zero));
        return new JournalEntry(
            "j", sequence, draft.Type, draft.Time, draft.BootId, draft.Uptime, true, draft.Data, $"h{sequence - 1}", $"h{sequence}", ReadOnlyMemory<byte>.Empty,
            draft.Personal.ToDictionary(each => each.Key, each => new SealedText("00", each.Value)));
    }
}
