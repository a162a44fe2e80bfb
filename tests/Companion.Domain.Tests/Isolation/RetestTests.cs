using Companion.Domain.Asking;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

/// <summary>When everything is tested again (I15): the time runs from the first clear to work on proofs, whatever lapses and is given again meanwhile.</summary>
public sealed class RetestTests
{
    // Went wrong: whoever joined one minute before the next test gave the old proofs another half hour.
    [Fact]
    public void Somebody_who_joins_gains_no_time_for_the_proofs()
    {
        var bench = AMinuteBefore();
        var due = bench.Job!.Clearance!.RetestDue;
        Assert.Contains("30 minutes", Speaking.Wording.ClearToWork(bench.Job), StringComparison.Ordinal);
        bench.Claim(Phrase.PersonJoins, "12");
        bench.Until(NeedKind.Working);
        Assert.Equal(due, bench.Job.Clearance!.RetestDue);
        Assert.Contains("Test again within", Speaking.Wording.ClearToWork(bench.Job), StringComparison.Ordinal);
        Assert.DoesNotContain("30 minutes", Speaking.Wording.ClearToWork(bench.Job), StringComparison.Ordinal);
        Assert.Equal(
            (due - bench.Time.Now.Boot).Nanoseconds / 100,
            (bench.Job.Clearance.DueWall - bench.Time.Now.Wall).Ticks);
        bench.Pass(61);
        Assert.Null(bench.Job.Clearance);
        Assert.Empty(bench.Job.Proofs);
    }

    [Fact]
    public void Proofs_end_at_their_time_although_clear_to_work_lapsed_before()
    {
        var bench = AMinuteBefore();
        bench.Claim(Phrase.PersonJoins, "12");
        bench.Pass(55);
        Assert.Equal(2, bench.Job!.Proofs.Count);
        bench.Pass(6);
        Assert.Empty(bench.Job.Proofs);
        Assert.Equal(NeedKind.FitLock, bench.Job.Question!.Need.Kind);
    }

    [Fact]
    public void A_circuit_that_was_not_touched_is_tested_again_when_its_time_comes()
    {
        var bench = AMinuteBefore();
        bench.Say(Phrase.ChargerConnected);
        Assert.Equal([new("frontlink")], bench.Job!.Proofs.Keys);
        bench.Until(NeedKind.Working);
        Assert.Equal(4, bench.Count<Events.DeadProved>());
        Assert.Equal(bench.Time.Now.Boot + Ticks.OfSeconds(30 * 60), bench.Job.Clearance!.RetestDue);
    }

    [Fact]
    public void A_sleep_after_clear_to_work_lapsed_voids_the_proofs_too()
    {
        var bench = AMinuteBefore();
        bench.Claim(Phrase.PersonJoins, "12");
        bench.Time.Sleep(Ticks.OfSeconds(20));
        bench.Do(new Deciding.Tick());
        Assert.Empty(bench.Job!.Proofs);
    }

    private static JobBench AMinuteBefore() => new JobBench().Open().Until(NeedKind.Working).Pass(29 * 60);
}
