using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

/// <summary>The verdict table (29 CFR 1910.333(b)(2)(iv)(B), published; the table computed from the rule).</summary>
public sealed class DeadTestTests
{
    private static readonly TestPlaceId Front = new("frontlink");

    private static JobBench AtFirstProving() => new JobBench().Open().Until(NeedKind.ProveTester);

    [Fact]
    public void Proving_three_low_readings_and_proving_again_is_proved_dead()
    {
        var bench = AtFirstProving();
        bench.Read("230");
        bench.Read("3");
        bench.Read("1");
        bench.Read("2");
        bench.Read("231");
        bench.Claim(Phrase.ProvedDead);
        Assert.Contains(Front, bench.Job!.Proofs.Keys);
        Assert.Equal(3, bench.LastOf<DeadProved>().Readings.Length);
        Assert.Equal(2, bench.LastOf<DeadProved>().Waits.Length);
    }

    [Fact]
    public void No_indication_afterwards_voids_all_readings()
    {
        var bench = AtFirstProving();
        bench.Read("230");
        bench.Read("3");
        bench.Read("1");
        bench.Read("2");
        bench.Say(Phrase.NothingShown);
        Assert.IsType<Refused>(bench.Say(Phrase.NothingShown));
        Assert.Null(bench.Job!.Test);
        Assert.Empty(bench.Job.Proofs);
        Assert.Equal(NeedKind.ProveTester, bench.Job.Question!.Need.Kind);
    }

    // I3, I4. Went wrong: the tester that had failed stayed the tester in use, and whatever stood in for it was recorded under its name.
    [Fact]
    public void A_tester_that_failed_is_out_of_use_and_the_other_one_of_the_kit_is_proved()
    {
        var bench = AtFirstProving();
        bench.Say(Phrase.NothingShown);
        var refused = Assert.IsType<Refused>(bench.Say(Phrase.NothingShown));
        Assert.EndsWith("Do not use it. Take the other one: tester-two.", refused.Reason, StringComparison.Ordinal);
        Assert.Equal(NeedKind.ProveTester, bench.Job!.Question!.Need.Kind);
        bench.Read("230");
        Assert.Equal((DemoKit.SecondTester, true), (bench.LastOf<TesterProved>().Tester, bench.LastOf<TesterProved>().Ok));

        // It fails as well, between the provings.
        bench.Read("3");
        bench.Read("1");
        bench.Read("2");
        bench.Say(Phrase.NothingShown);
        bench.Say(Phrase.NothingShown);
        Assert.Equal(new Need(NeedKind.CheckKit, DemoKit.Tester.Value), bench.Job.Question.Need);
        Assert.IsType<Refused>(bench.Say(Phrase.Reading, "230"));
        bench.Say(Phrase.Checked);
        bench.Read("230");
        Assert.Equal((DemoKit.Tester, true), (bench.LastOf<TesterProved>().Tester, bench.LastOf<TesterProved>().Ok));
    }

    [Fact]
    public void A_tester_that_was_not_proved_cannot_read()
    {
        var bench = AtFirstProving();
        Assert.IsType<Refused>(bench.Read("3"));
        Assert.Null(bench.Job!.Test);
        Assert.Equal(NeedKind.ProveTester, bench.Job.Question!.Need.Kind);
    }

    [Fact]
    public void A_pair_that_was_not_tested_is_named_in_the_refusal()
    {
        var bench = AtFirstProving();
        bench.Read("230");
        bench.Read("3");
        var refused = Assert.IsType<Refused>(bench.Say(Phrase.ProvedDead));
        Assert.Contains("positive to chassis", refused.Reason, StringComparison.Ordinal);
        Assert.Empty(bench.Job!.Proofs);
    }

    [Theory]
    [InlineData("65")]
    [InlineData("61")]
    [InlineData("60.1")]
    [InlineData("-61")]
    public void A_reading_above_the_limit_is_live_and_the_wait_begins_again(string volts)
    {
        var bench = AtFirstProving();
        bench.Read("230");
        bench.Read(volts);

        Assert.Equal(AlarmKind.Live, bench.Job!.Alarm!.Kind);
        Assert.Null(bench.Job.Test);
        var wait = bench.Job.Waits[new WaitId("frontwait")];
        Assert.Null(wait.CompletedAt);
        Assert.Equal(1, bench.Log.Count(recorded => recorded.Event is WaitVoided { Wait.Value: "frontwait" }));
        Assert.IsType<Refused>(bench.Say(Phrase.ProvedDead));
    }

    // ISO 6469-4:2015 5.2.2 (published): 60 V DC passes.
    [Fact]
    public void A_reading_equal_to_the_limit_passes()
    {
        var bench = AtFirstProving();
        bench.Read("230");
        bench.Read("60.0");
        Assert.Null(bench.Job!.Alarm);
        Assert.Single(bench.Job.Test!.Readings);
    }

    [Fact]
    public void A_second_tester_cannot_finish_the_test_of_the_first()
    {
        var bench = AtFirstProving();
        bench.Read("230", DemoKit.Tester);
        Assert.IsType<Refused>(bench.Read("3", DemoKit.SecondTester));
        bench.Read("3", DemoKit.Tester);
        bench.Read("1", DemoKit.Tester);
        bench.Read("2", DemoKit.Tester);
        Assert.IsType<Refused>(bench.Read("230", DemoKit.SecondTester));
        Assert.Null(bench.Job!.Test);
        Assert.Empty(bench.Job.Proofs);
    }

    // Kirchhoff (computed): rail to rail equals the sum or difference of the rail-to-chassis readings.
    [Fact]
    public void Readings_that_do_not_fit_together_are_discarded()
    {
        var bench = AtFirstProving();
        bench.Read("230");
        bench.Read("3");
        bench.Read("20");
        var refused = Assert.IsType<Refused>(bench.Read("31"));
        Assert.Contains("probe", refused.Reason, StringComparison.Ordinal);
        Assert.Null(bench.Job!.Test);
    }

    [Fact]
    public void All_zero_readings_ask_for_bare_metal()
    {
        var bench = AtFirstProving();
        bench.Read("230");
        bench.Read("0");
        bench.Read("0.0");
        bench.Read("0");
        Assert.Equal(NeedKind.ConfirmContact, bench.Job!.Question!.Need.Kind);
        bench.Claim(Phrase.BareMetal);
        Assert.Equal(NeedKind.ProveTester, bench.Job.Question!.Need.Kind);
    }

    [Fact]
    public void Below_counts_only_with_the_lowest_indication_of_the_tester()
    {
        var bench = AtFirstProving();
        bench.Read("230");
        Assert.IsType<Refused>(bench.Read("5", below: true));
        Assert.IsType<Accepted>(bench.Read("6", below: true));
        Assert.True(bench.Job!.Test!.Readings[new PairId("rails")].Reading.Below);
    }

    [Fact]
    public void A_claim_after_the_window_is_refused_and_the_test_begins_again()
    {
        var bench = AtFirstProving();
        bench.Read("230");
        bench.Read("3");
        bench.Read("1");
        bench.Read("2");
        bench.Read("231");
        bench.Pass(301);
        Assert.Null(bench.Job!.Test);
        Assert.IsType<Refused>(bench.Say(Phrase.ProvedDead));
        Assert.Empty(bench.Job.Proofs);
    }

    // I21
    [Fact]
    public void A_reading_above_what_the_vehicle_can_hold_stops_the_job_for_good()
    {
        var bench = AtFirstProving();
        bench.Read("230");
        bench.Read("801");
        Assert.True(bench.Job!.Halt!.Final);
        bench.Say(Phrase.Affirm);
        Assert.Equal(NeedKind.HandOver, bench.Job.Question!.Need.Kind);
    }

    [Fact]
    public void A_reading_in_another_unit_is_refused_with_what_to_say()
    {
        var bench = AtFirstProving();
        var refused = Assert.IsType<Refused>(bench.Say(Phrase.OtherUnit, "230"));
        Assert.Contains("volts", refused.Reason, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("1000000")]
    [InlineData("1.23456")]
    [InlineData("")]
    public void A_number_out_of_range_is_refused(string number)
    {
        var bench = AtFirstProving();
        bench.Read("230");
        var refused = Assert.IsType<Refused>(bench.Say(Phrase.Reading, number));
        Assert.Contains("digit by digit", refused.Reason, StringComparison.Ordinal);
    }

    // Readings during the wait are watching readings.
    [Fact]
    public void A_watching_reading_is_recorded_and_never_counts()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        Assert.IsType<Accepted>(bench.Say(Phrase.Watching, "3"));
        Assert.Equal(ReadingPurpose.Watching, bench.LastOf<ReadingTaken>().Purpose);
        Assert.Null(bench.Job!.Test);
    }
}
