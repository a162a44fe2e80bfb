using Companion.Contracts;
using Companion.Papers.Words;
using Companion.Review;

namespace Companion.Papers.Tests.Words;

/// <summary>What void a proof may be in what is missing: a paper of a record that is not whole claims nothing.</summary>
public sealed class DamagedRecordTests
{
    [Fact]
    public void Missing_entries_take_every_claim_away() => NothingIsClaimed(Whole().RemoveAt(60), "Entries 61 to 61 are missing.");

    [Fact]
    public void A_missing_beginning_takes_every_claim_away() => NothingIsClaimed(Whole().RemoveAt(0), "The record does not begin with the opening of the job: its first entry here is 2.");

    [Fact]
    public void Two_journals_that_claim_one_job_take_every_claim_away()
    {
        var whole = Whole();
        NothingIsClaimed(whole.Add(whole[50] with { Hash = "another" }), "Entry 51 is there twice: two journals claim this job.");
    }

    [Fact]
    public void An_entry_that_cannot_be_read_takes_every_claim_away()
    {
        var whole = Whole();
        NothingIsClaimed(whole.SetItem(70, whole[70] with { Data = "{" }), "Entry 71 cannot be read as ");
    }

    [Fact]
    public void A_clock_that_was_set_is_told_and_no_time_is_compared()
    {
        var whole = Whole();
        var set = whole.Select((entry, index) => index < 100 ? entry : entry with { Time = entry.Time.AddHours(-3) });
        var record = RecordedJob.Of("job-1", set);
        var words = PaperPrint.Of(HandOverPaper.Of(record, record.Entries[^1].Entry.Time.AddMinutes(1)));
        Assert.Contains("The wall clock was set by about ", words, StringComparison.Ordinal);
        Assert.Contains("It was set while the job ran: times before and after do not compare.", words, StringComparison.Ordinal);
        Assert.StartsWith("Treat as live. ", HandOverPaper.Of(record, record.Entries[^1].Entry.Time.AddMinutes(1)).Standing, StringComparison.Ordinal);
    }

    [Fact]
    public void An_empty_record_is_told_as_live()
    {
        var paper = HandOverPaper.Of(RecordedJob.Of("job-1", []), DateTimeOffset.UnixEpoch);
        Assert.Equal("Treat as live. This record does not tell how the vehicle stands.", paper.Standing);
        Assert.Equal(0, paper.LastSequence);
    }

    private static System.Collections.Immutable.ImmutableArray<JournalEntry> Whole() =>
        [.. DemoRecords.Of(DemoRecords.Cleared()).Entries.Select(entry => entry.Entry)];

    private static void NothingIsClaimed(IEnumerable<JournalEntry> entries, string trouble)
    {
        var record = RecordedJob.Of("job-1", entries);
        foreach (var paper in AllPapers.Of(record))
        {
            var words = PaperPrint.Of(paper);
            Assert.StartsWith("Treat as live. ", paper.Standing, StringComparison.Ordinal);
            Assert.Equal("Trouble with this record", paper.Sections[0].Heading);
            Assert.DoesNotContain("| Proved dead 20", words, StringComparison.Ordinal);
            Assert.True(paper.Kind == PaperKind.Label || words.Contains(trouble, StringComparison.Ordinal), words);
        }
    }
}
