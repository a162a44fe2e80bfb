using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Time;
using Companion.Papers.Coding;
using Companion.Papers.Words;
using Companion.TestKit;

namespace Companion.Papers.Tests.Words;

public sealed class HandOverPaperTests
{
    [Fact]
    public void A_vehicle_handed_over_is_told_with_points_locks_readings_testers_and_what_stays_live()
    {
        var bench = DemoRecords.HandedOver();
        var paper = Of(bench);
        Assert.StartsWith("Isolated and marked when it was handed over, ", paper.Standing, StringComparison.Ordinal);

        // A pack of more than 60 V stays what it is: NTSB SR-20/01, as reported.
        Assert.Contains("The battery is not de-energised. Nobody is clear to work: test again first.", paper.Standing, StringComparison.Ordinal);
        var words = PaperPrint.Of(paper);
        var plug = bench.Job!.Locks.First(fitted => fitted.Point.Value == "rearplug");
        Assert.Contains($"; lock {plug.Number} of crew-4, fitted ", words, StringComparison.Ordinal);
        Assert.Contains("Front inverter | Proved dead 20", words, StringComparison.Ordinal);
        Assert.Contains("positive to negative | 3 V DC at 22:", words, StringComparison.Ordinal);
        Assert.Contains("limit 60 V, crew-4, tester no. tester-1, entry ", words, StringComparison.Ordinal);
        Assert.Contains("tester on its source | Before the readings 230 V DC at 22:", words, StringComparison.Ordinal);
        Assert.Contains("Both packs and the pack side of both plugs. Opening every point does not change that.", words, StringComparison.Ordinal);
        Assert.Contains("Driven wheels off the ground", words, StringComparison.Ordinal);
        Assert.Contains("The maker's method, local rules and a competent person go before this paper.", words, StringComparison.Ordinal);
        Assert.False(paper.StillOpen);
    }

    [Fact]
    public void An_open_job_is_told_as_open_and_clear_to_work_with_its_end()
    {
        var paper = Of(DemoRecords.Cleared());
        Assert.True(paper.StillOpen);
        Assert.StartsWith("Vehicle isolated and marked, clear to work since ", paper.Standing, StringComparison.Ordinal);
        Assert.Contains(paper.Cautions, caution => caution.StartsWith("Clear to work lapses at ", StringComparison.Ordinal));
    }

    [Fact]
    public void Clear_to_work_whose_retest_was_due_is_told_as_live()
    {
        var record = DemoRecords.Of(DemoRecords.Cleared());
        var paper = HandOverPaper.Of(record, record.Entries[^1].Entry.Time.AddMinutes(DemoSheets.Van().RetestMinutes));
        Assert.StartsWith("Treat as live. It was isolated and marked, but the re-test was due at ", paper.Standing, StringComparison.Ordinal);
        Assert.DoesNotContain("clear to work since", PaperPrint.Of(paper), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void A_disturbed_vehicle_is_told_as_live_with_readings_that_prove_nothing()
    {
        var bench = DemoRecords.Cleared();
        bench.Say(Phrase.PlugRefitted);
        var words = PaperPrint.Of(Of(bench));
        Assert.Contains("Not isolated: treat as live.", words, StringComparison.Ordinal);
        Assert.Contains("Not proved dead, or no longer. Treat as live.", words, StringComparison.Ordinal);
        Assert.Contains("; proves nothing.", words, StringComparison.Ordinal);
        Assert.DoesNotContain("| Proved dead", words, StringComparison.Ordinal);
    }

    [Fact]
    public void Locks_that_were_exchanged_are_told_as_taken_off()
    {
        var bench = DemoRecords.Cleared();
        bench.Claim(Phrase.HandOverExchanged);
        var words = PaperPrint.Of(Of(bench));
        Assert.Contains("was taken off at the hand-over, for one of whoever took over", words, StringComparison.Ordinal);
        Assert.Contains("The numbers of the new ones are not in the record.", words, StringComparison.Ordinal);
    }

    // I2: a proof before a gap counts only once somebody confirmed that nothing was touched.
    [Fact]
    public void Handed_over_after_a_gap_that_nobody_accounted_for_every_paper_and_its_code_said_proved_dead()
    {
        var bench = new JobBench().Open().Until(NeedKind.ClaimClear);
        bench.Time.Sleep(Ticks.OfSeconds(60));
        bench.Do(new Tick());
        bench.Claim(Phrase.HandOver);
        var record = DemoRecords.Of(bench);
        var made = DemoRecords.SoonAfter(record);
        foreach (var words in new[]
        {
            PaperPrint.Of(HandOverPaper.Of(record, made)), PaperPrint.Of(LabelPaper.Of(record, made)), PaperStatement.Of(record, Guid.Empty)!.Text,
        })
        {
            Assert.DoesNotContain("proved dead 20", words, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("open since", words, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("| OPEN", words, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_wait_that_became_void_after_its_end_was_told_as_over()
    {
        var bench = DemoRecords.Cleared();
        bench.Say(Phrase.KeyOn);
        var words = PaperPrint.Of(JobReportPaper.Of(DemoRecords.Of(bench), DemoTime.Start));
        Assert.Matches("Front link \\| 300 s by the sheet, from 22:\\d\\d\\. Over 22:\\d\\d, void since 22:\\d\\d: key on\\.", words);
    }

    [Fact]
    public void The_proving_after_an_earlier_test_was_told_as_that_of_the_last_one()
    {
        var bench = DemoRecords.Cleared();
        bench.Say(Phrase.KeyOn);
        bench.Until(NeedKind.TakeReading);
        var words = PaperPrint.Of(Of(bench));
        Assert.Contains("after not proved in the last test.", words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_vehicle_that_was_put_back_was_told_as_one_that_never_had_a_lock()
    {
        var bench = DemoRecords.Cleared();
        bench.Claim(Phrase.WorkDone);
        bench.Until(NeedKind.PutBack);
        bench.Claim(Phrase.HandOver);
        var words = PaperPrint.Of(Of(bench));
        Assert.Contains("No lock was left on it.", words, StringComparison.Ordinal);
        Assert.DoesNotContain("No lock was fitted", words, StringComparison.Ordinal);
    }

    // The end of summer time: every paper names the one offset that all its times are in.
    [Fact]
    public void Times_before_a_change_of_offset_were_told_as_if_they_were_in_the_last_one()
    {
        var bench = DemoRecords.Cleared();
        bench.Time.ChangeOffset(TimeSpan.Zero);
        bench.Claim(Phrase.HandOver);
        var record = DemoRecords.Of(bench);
        Assert.Contains("UTC+00:00", PaperPrint.Of(Of(bench)), StringComparison.Ordinal);
        foreach (var words in new[] { PaperPrint.Of(Of(bench)), PaperPrint.Of(LabelPaper.Of(record, DemoTime.Start)), PaperPrint.Of(JobReportPaper.Of(record, DemoTime.Start)) })
        {
            Assert.DoesNotContain(" 22:", words, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_job_without_a_sheet_says_that_nothing_is_known_and_all_of_it_live()
    {
        var paper = Of(new JobBench().Open());
        Assert.Equal(PaperEmphasis.Warning, paper.Sections[0].Emphasis);
        var words = PaperPrint.Of(paper);
        Assert.Contains("No shutdown sheet is in this record: no point, wait or test is known.", words, StringComparison.Ordinal);
        Assert.Contains("treat everything of the high-voltage system as live", words, StringComparison.Ordinal);
    }

    [Fact]
    public void Names_that_are_gone_are_said_not_to_be_on_the_paper()
    {
        var record = DemoRecords.Of(DemoRecords.HandedOver(), texts: false);
        var words = PaperPrint.Of(HandOverPaper.Of(record, DemoRecords.SoonAfter(record)));
        Assert.Contains("Technician | Crew-4, name: not on this paper", words, StringComparison.Ordinal);
        Assert.Contains("Second person | not on this paper", words, StringComparison.Ordinal);
        Assert.Contains("Place | not on this paper", words, StringComparison.Ordinal);
    }

    private static Paper Of(JobBench bench)
    {
        var record = DemoRecords.Of(bench);
        return HandOverPaper.Of(record, DemoRecords.SoonAfter(record));
    }
}
