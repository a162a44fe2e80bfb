using Companion.Domain.Arrival;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Papers.Coding;
using Companion.Papers.Words;
using Companion.TestKit;

namespace Companion.Papers.Tests.Words;

/// <summary>Every state in its words, on paper and in the code.</summary>
public sealed class PaperStateTests
{
    [Fact]
    public void Clear_to_work_is_told_with_its_end() => IsTold(
        DemoRecords.Cleared(), PaperState.ClearToWork, "Vehicle isolated and marked, clear to work since 22:22. The battery is not de-energised. Clear to work lapses at 22:52 at the latest.");

    // Set back by two hours, the square would have said clear to work long after the re-test was due.
    [Fact]
    public void Clear_to_work_by_a_clock_that_was_set_is_told_as_live_in_the_code_too()
    {
        var bench = DemoRecords.Cleared();
        bench.Time.StepWall(TimeSpan.FromHours(-2));
        bench.Pass(1);
        IsTold(bench, PaperState.ProvedDead, "Treat as live. It was isolated and marked, but the tablet's clock was set meanwhile: when the re-test is due is not known. The battery is not de-energised.");
    }

    [Fact]
    public void Proved_dead_without_clear_to_work_is_told_as_live() => IsTold(
        new JobBench().Open().Until(NeedKind.ClaimClear), PaperState.ProvedDead, "Not isolated: treat as live.");

    [Fact]
    public void Isolation_on_its_way_is_told_as_live() => IsTold(
        new JobBench().Open().Until(NeedKind.OpenPoint, 2), PaperState.NotIsolated, "Not isolated: treat as live.");

    [Fact]
    public void A_vehicle_handed_over_put_back_is_told_as_live()
    {
        var bench = DemoRecords.Cleared();
        bench.Claim(Phrase.WorkDone);
        IsTold(bench, PaperState.PuttingBack, "Partly put back: treat as live.");
        bench.Until(NeedKind.PutBack);
        bench.Claim(Phrase.HandOver);
        IsTold(bench, PaperState.HandedOverPutBack, "Put back: every lock is removed and every point closed. The vehicle is live.");
    }

    [Fact]
    public void A_vehicle_handed_over_half_way_is_told_as_live()
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint, 2);
        bench.Claim(Phrase.HandOver);
        IsTold(bench, PaperState.HandedOverLive, "Not isolated: treat as live.");
    }

    [Fact]
    public void A_job_that_was_stopped_is_told_as_live()
    {
        var bench = DemoRecords.Cleared();
        bench.Say(Phrase.Stop);
        Assert.DoesNotContain("clear to work since", IsTold(bench, PaperState.Stopped, "Not isolated: treat as live."), StringComparison.Ordinal);
    }

    [Fact]
    public void A_job_closed_before_anything_was_opened_is_told_as_live()
    {
        var bench = new JobBench().Open();
        bench.Do(new CloseJob("wrong vehicle"));
        IsTold(bench, PaperState.Closed, "Not isolated: treat as live.");
    }

    [Fact]
    public void A_stand_off_is_told_with_its_distance_and_where_the_vehicle_may_stand()
    {
        var bench = new JobBench { Arrival = DemoArrival.Complete() }.Open();
        bench.Say(Phrase.AffirmCode, bench.Job!.Question!.Code);
        while (bench.Job!.StandOff is null)
        {
            var item = bench.Job.Scene!.Next!;
            if (item.Leads == Leads.StandOff)
            {
                bench.Say(Phrase.Yes);
            }
            else
            {
                bench.AnswerRightly();
            }
        }

        var words = IsTold(
            // 50 ft, and a day or more: NHTSA interim guidance, published. Rounded up.
            bench, PaperState.StandOff, "Not isolated. Stand off. Park it in the open, 16 metres clear on all sides or behind a barrier. It can burn a day or more later.");
        Assert.Contains("No temperature ends the stand-off", words, StringComparison.Ordinal);
        Assert.DoesNotContain("Test again", words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_report_tells_waits_equipment_and_what_went_against_the_job_before_its_course()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        bench.Say(Phrase.ProvedDead);
        bench.Until(NeedKind.Working);
        var record = DemoRecords.Of(bench);
        var words = PaperPrint.Of(JobReportPaper.Of(record, DemoRecords.SoonAfter(record)));
        Assert.Contains("Control units | 120 s by the sheet, from 22:10. Over 22:12; that alone proves nothing.", words, StringComparison.Ordinal);
        Assert.Contains("Tester | No. tester-1. Looked over 22:10.", words, StringComparison.Ordinal);
        Assert.Contains("Front inverter, positive to negative: 3 V DC.", words, StringComparison.Ordinal);
        Assert.InRange(words.IndexOf("## Refused, void, stopped or lost", StringComparison.Ordinal), 0, words.IndexOf("## Course of the job", StringComparison.Ordinal));
    }

    private static string IsTold(JobBench bench, PaperState state, string standing)
    {
        var record = DemoRecords.Of(bench);
        Assert.Equal(state, PaperStatement.Of(record, Guid.Empty)!.State);
        Assert.All(AllPapers.Of(record), paper => Assert.Equal(standing, paper.Standing));
        return PaperPrint.Of(HandOverPaper.Of(record, DemoRecords.SoonAfter(record)));
    }
}
