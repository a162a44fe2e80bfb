using Companion.Contracts;

namespace Companion.Review.Tests;

public sealed class RecordReaderTests
{
    private static readonly DateTimeOffset Start = new(2031, 5, 4, 21, 0, 0, TimeSpan.FromHours(1));

    [Fact]
    public void Entries_are_ordered_by_sequence_and_a_clock_that_was_set_is_told()
    {
        var job = RecordedJob.Of("j", [Entry(2, 5, Start.AddHours(-3)), Entry(1, 0, Start), Entry(3, 9, Start.AddHours(-3).AddSeconds(4))]);

        Assert.Equal([1, 2, 3], job.Entries.Select(entry => entry.Sequence));
        Assert.Equal([0, 5, 9], job.Entries.Select(entry => entry.Since.TotalSeconds));
        Assert.Equal([(2L, TroubleKind.ClockStep)], job.Troubles.Select(trouble => (trouble.Sequence, trouble.Kind)));
    }

    [Fact]
    public void Missing_entries_and_two_journals_for_one_job_are_told_and_the_rest_opens()
    {
        var job = RecordedJob.Of("j", [Entry(1, 0, Start), Entry(4, 3, Start.AddSeconds(3)), Entry(4, 3, Start.AddSeconds(3))]);

        Assert.Equal(3, job.Entries.Length);
        Assert.Equal([TroubleKind.Twice, TroubleKind.Gap], job.Troubles.Select(trouble => trouble.Kind));
    }

    // Whoever opens the exports of two tablets, or of one that was put back to an earlier day, sees both stories and one line about it.
    [Fact]
    public void Two_whole_journals_for_one_job_are_one_thing_to_know_and_every_entry_is_shown()
    {
        var one = Enumerable.Range(1, 5).Select(n => Entry(n, n, Start.AddSeconds(n))).ToList();
        var other = one.Select(entry => entry with { Hash = $"other-{entry.Hash}", PreviousHash = entry.Sequence == 1 ? "h0" : $"other-{entry.PreviousHash}" });

        var job = RecordedJob.Of("j", one.Concat(other));

        Assert.Equal(10, job.Entries.Length);
        Assert.Equal("Entries 1 to 5 are there twice: two journals claim this job. Both are shown.", Assert.Single(job.Troubles).Words);
    }

    [Fact]
    public void What_cannot_be_read_is_kept_and_told()
    {
        var job = RecordedJob.Of("j", [Entry(1, 0, Start) with { Type = "wait.started", Data = """{"wait":7}""" }]);

        Assert.Null(job.Entries[0].Happened);
        Assert.Equal(TroubleKind.Unreadable, job.Troubles[0].Kind);
    }

    private static JournalEntry Entry(long sequence, int seconds, DateTimeOffset wall) => new(
        "j", sequence, "of.another.kind", wall, "boot", seconds * 1_000_000_000L, false, "{}",
        $"h{sequence - 1}", $"h{sequence}", ReadOnlyMemory<byte>.Empty, new Dictionary<string, SealedText>());
}
