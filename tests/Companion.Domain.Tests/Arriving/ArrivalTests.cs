using Companion.Domain.Arrival;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Reacting;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Domain.Tests.Arriving;

public sealed class ArrivalTests
{
    private static JobBench Arrived() => new JobBench { Arrival = DemoArrival.Complete() }.Open();

    private static JobBench At(Concern concern)
    {
        var bench = Arrived();
        for (var step = 0; step < 40 && bench.Job!.Question!.Need.Subject != concern.ToString().ToLowerInvariant(); step++)
        {
            bench.AnswerRightly();
        }

        return bench;
    }

    [Fact]
    public void Every_item_is_asked_in_order_and_read_back_by_code_before_a_sheet_is_chosen()
    {
        var bench = Arrived().Until(NeedKind.ChooseSheet);
        Assert.Equal(DemoArrival.Complete().Items.Select(item => item.Id), bench.Log.Select(entry => entry.Event).OfType<SceneAnswered>().Select(answered => answered.Item));
        Assert.IsType<CodeAccepted>(bench.Log[^3].Event);
        Assert.Equal(NeedKind.SceneReadBack, bench.LastOf<StepConfirmed>().Question);
    }

    [Fact]
    public void A_whole_job_with_the_arrival_comes_to_clear_to_work() =>
        Assert.NotNull(Arrived().Until(NeedKind.Working).Job!.Clearance);

    [Fact]
    public void A_sheet_cannot_be_chosen_before_the_arrival_is_settled()
    {
        var bench = At(Concern.Water);
        Assert.Contains("arrival", Assert.IsType<Refused>(bench.Say(Phrase.Sheet, "7")).Reason, StringComparison.Ordinal);
        Assert.Null(bench.Job!.Sheet);
    }

    // smoke, sparks, hissing: leave, fire service; a breached or submerged pack: no isolation workflow (NHTSA interim guidance, P/S).
    [Theory]
    [InlineData(Concern.Fire)]
    [InlineData(Concern.Pack)]
    [InlineData(Concern.Water)]
    public void A_pack_that_may_burn_never_enters_the_isolation(Concern concern)
    {
        var bench = At(concern);
        bench.Say(Phrase.Yes);
        Assert.Equal(AlarmKind.Stop, bench.Job!.Alarm!.Kind);
        Assert.Contains("Leave now", bench.Job.Alarm.Text, StringComparison.Ordinal);
        bench.Say(Phrase.Affirm);
        Assert.Equal(NeedKind.StandOff, bench.Job.Question!.Need.Kind);
        Assert.IsType<Refused>(bench.Say(Phrase.Sheet, "7"));
        Assert.IsType<Refused>(bench.Say(Phrase.Ready));
        bench.Claim(Phrase.HandOver);
        Assert.True(bench.Job.Ended);
        Assert.Contains("Stand-off", bench.LastOf<JobHandedOver>().Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void What_nobody_can_tell_counts_as_yes()
    {
        var bench = At(Concern.Pack);
        bench.Say(Phrase.CannotDo);
        Assert.NotNull(bench.Job!.StandOff);
    }

    [Fact]
    public void A_charging_cable_that_comes_out_is_mended_and_one_that_does_not_means_stand_off()
    {
        var mended = At(Concern.ChargingCable);
        mended.Say(Phrase.Yes);
        Assert.Equal(NeedKind.SceneRemedy, mended.Job!.Question!.Need.Kind);
        mended.Say(Phrase.Done);
        Assert.Equal(NeedKind.SceneAct, mended.Job.Question.Need.Kind);

        var stuck = At(Concern.ChargingCable);
        stuck.Say(Phrase.Yes);
        stuck.Say(Phrase.CannotDo);
        Assert.NotNull(stuck.Job!.StandOff);
    }

    // raining, a detector is outside its scope (EN 61243-3, P).
    [Fact]
    public void Rain_is_kept_off_or_the_job_stops()
    {
        var roofed = At(Concern.Rain);
        roofed.Say(Phrase.Yes);
        roofed.Say(Phrase.Done);
        Assert.Null(roofed.Job!.Halt);

        var open = At(Concern.Rain);
        open.Say(Phrase.Yes);
        open.Say(Phrase.CannotDo);
        Assert.True(open.Job!.Halt!.Final);
        Assert.Null(open.Job.StandOff);
    }

    // 29 CFR 1910.137(c)(2)(ii): gloves are air-tested before each day's use.
    [Fact]
    public void The_look_over_of_gloves_asks_for_the_air_test()
    {
        var bench = Arrived().Until(NeedKind.CheckKit);
        Assert.Contains("no air may escape", Speaking.Wording.Ask(bench.Job!, bench.Job!.Question!), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(Concern.Implant)]
    [InlineData(Concern.Enclosed)]
    public void A_yes_that_stops_leaves_nothing_but_the_hand_over(Concern concern)
    {
        var bench = At(concern);
        bench.Say(Phrase.Yes);
        bench.Say(Phrase.Affirm);
        Assert.Equal(NeedKind.HandOver, bench.Job!.Question!.Need.Kind);
    }

    [Fact]
    public void What_cannot_be_done_stops_the_job()
    {
        var bench = At(Concern.Traffic);
        bench.Say(Phrase.CannotDo);
        Assert.True(bench.Job!.Halt!.Final);
    }

    [Fact]
    public void Damage_is_noted_with_its_advice_and_the_job_goes_on()
    {
        var bench = At(Concern.Airbags);
        bench.Say(Phrase.Yes);
        Assert.Equal(Concern.Airbags, Assert.Single(bench.Job!.Scene!.Hazards).Concern);
        var answered = bench.Log.Last(entry => entry.Event is SceneAnswered);
        Assert.Contains(React.To(bench.Job, answered.Event, answered.Moment).OfType<Say>(), say => say.Text == "Mind the airbags.");
        Assert.Equal(new Need(NeedKind.SceneQuestion, "chargingcable"), bench.Job.Question!.Need);
    }

    [Fact]
    public void Wrong_to_the_read_back_goes_through_the_list_again()
    {
        var bench = Arrived().Until(NeedKind.SceneReadBack);
        bench.Say(Phrase.Wrong);
        Assert.Empty(bench.Job!.Scene!.Answers);
        Assert.Equal(NeedKind.SceneAct, bench.Job.Question!.Need.Kind);
    }

    [Fact]
    public void A_wrong_code_confirms_no_read_back()
    {
        var bench = Arrived().Until(NeedKind.SceneReadBack);
        bench.Say(Phrase.Ready);
        bench.Say(Phrase.AffirmCode, bench.Job!.Question!.Code == "12" ? "21" : "12");
        Assert.False(bench.Job.Scene!.Confirmed);
    }

    // I5, I16
    [Fact]
    public void Leave_now_works_at_any_moment_and_ends_everything_that_was_proved()
    {
        var bench = Arrived().Until(NeedKind.Working);
        bench.Do(new Answer { Question = 0, Began = bench.Time.Now, By = By.Voice, Phrase = Phrase.LeaveNow });
        Assert.Empty(bench.Job!.Proofs);
        Assert.Null(bench.Job.Clearance);
        Assert.NotNull(bench.Job.StandOff);
        bench.Say(Phrase.Affirm);
        Assert.Equal(NeedKind.StandOff, bench.Job.Question!.Need.Kind);
    }

    [Fact]
    public void A_casualty_stops_the_work_and_reads_out_the_place_which_the_record_of_prompts_does_not_hold()
    {
        var bench = Arrived().Until(NeedKind.Working);
        bench.Say(Phrase.Casualty);
        Assert.Empty(bench.Job!.Proofs);
        var raised = bench.Log.Last(entry => entry.Event is AlertRaised);
        var says = React.To(bench.Job, raised.Event, raised.Moment).OfType<Say>().ToList();
        Assert.Contains("rescue hook", says[0].Text, StringComparison.Ordinal);
        Assert.Equal("The place is Quarry road, marker 7. The number is one one two.", says[1].Text);
        Assert.DoesNotContain("Quarry", says[1].Written, StringComparison.Ordinal);
    }

    // Look-over and air test after any incident: 29 CFR 1910.137(c)(2)(ii), published.
    [Fact]
    public void After_a_casualty_what_is_worn_is_looked_over_again()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Say(Phrase.Casualty);
        bench.Until(NeedKind.CheckKit);
        Assert.Equal("gloves", bench.Job!.Question!.Need.Subject);
        Assert.Equal(4, bench.Job.Kit.Length - bench.Job.Checked.Count);
    }

    [Fact]
    public void The_stand_off_is_said_in_metres_rounded_up_and_never_under_fifty_feet()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Say(Phrase.LeaveNow);
        bench.Say(Phrase.Affirm);
        Assert.Equal(1524, bench.Job!.StandOff!.Centimetres);
        Assert.Contains("16 metres", Speaking.Wording.Ask(bench.Job, bench.Job.Question!), StringComparison.Ordinal);
    }

    [Fact]
    public void A_rise_of_the_temperature_sends_everybody_further_away()
    {
        var bench = At(Concern.Fire);
        bench.Say(Phrase.Yes);
        bench.Say(Phrase.Affirm);
        foreach (var degrees in new[] { "24", "24.5", "24", "24.5" })
        {
            bench.Say(Phrase.Temperature, degrees);
            Assert.Empty(bench.Job!.Alarms);
            bench.Pass(300);
        }

        bench.Say(Phrase.Temperature, "30");
        Assert.Contains("rises", bench.Job!.Alarm!.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("9999")]
    [InlineData("warm")]
    public void An_impossible_temperature_is_refused(string degrees)
    {
        var bench = At(Concern.Fire);
        bench.Say(Phrase.Yes);
        bench.Say(Phrase.Affirm);
        Assert.IsType<Refused>(bench.Say(Phrase.Temperature, degrees));
        Assert.Empty(bench.Job!.StandOff!.Heat);
    }

    [Fact]
    public void A_temperature_belongs_to_the_heat_watch_alone() =>
        Assert.IsType<Refused>(Arrived().Until(NeedKind.ChooseSheet).Say(Phrase.Temperature, "20"));

    [Fact]
    public void A_restart_in_the_middle_of_the_arrival_goes_on_where_it_was()
    {
        var bench = At(Concern.Airbags);
        bench.Time.Pass(Ticks.OfSeconds(600));
        bench.Do(new Restarted());
        Assert.Equal("airbags", bench.Job!.Question!.Need.Subject);
        bench.Until(NeedKind.ChooseSheet);
    }
}
