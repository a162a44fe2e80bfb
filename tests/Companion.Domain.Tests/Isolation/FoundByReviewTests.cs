using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Electrical;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Domain.Sheets;
using Companion.Domain.Speaking;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

/// <summary>What reading the rules against the invariants, and random jobs, found wrong. Each test is named after what went wrong.</summary>
public sealed class FoundByReviewTests
{
    // I5, I1
    [Fact]
    public void A_proof_survived_a_disturbance_that_undid_a_point_feeding_its_circuit()
    {
        var sheet = DemoSheets.Van() with { Disturbances = [new DisturbanceRule(Disturbance.ChargerConnected, [new("rear")], [])] };
        var bench = new JobBench { Sheet = sheet }.Open().Until(NeedKind.Working);
        bench.Say(Phrase.ChargerConnected);

        // "Every point feeding the rear" holds the 12 V battery, which feeds the front link too.
        Assert.DoesNotContain(new PointId("lowvolt"), bench.Job!.Points.Keys);
        Assert.Empty(bench.Job.Proofs);
        Assert.Empty(bench.Job.Waits);
    }

    // I5: what a place is named to prove, it proves no more once that point is undone.
    [Fact]
    public void A_proof_survived_a_disturbance_that_undid_a_point_that_its_place_is_named_for()
    {
        var van = DemoSheets.Van();
        var front = van.TestPlaces[0] with { Points = [new("frontplug"), new("rearplug")] };
        var bench = new JobBench { Sheet = van with { TestPlaces = [front, van.TestPlaces[1]] } }.Open().Until(NeedKind.Working);
        bench.Say(Phrase.ChargerConnected);
        Assert.DoesNotContain(new PointId("rearplug"), bench.Job!.Points.Keys);
        Assert.Empty(bench.Job.Proofs);
    }

    // I9
    [Fact]
    public void Refusals_to_open_and_to_close_a_job_left_no_entry()
    {
        var bench = new JobBench().Open().Until(NeedKind.FitLock);
        bench.Open();
        Assert.IsType<StepRefused>(bench.Log[^1].Event);
        bench.Do(new CloseJob("done"));
        Assert.IsType<StepRefused>(bench.Log[^1].Event);
        Assert.Equal(2, bench.Count<StepRefused>());
    }

    // I15: time is settled before anything else is looked at, whatever the command.
    [Fact]
    public void A_refused_second_job_hid_that_the_loop_had_stood_still()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Time.Pass(Ticks.OfSeconds(500));
        bench.Open();
        Assert.IsType<Refused>(bench.Last);
        Assert.Null(bench.Job!.Clearance);
        Assert.True(bench.Job.Doubt);
    }

    [Fact]
    public void A_job_could_be_closed_after_a_disturbance_although_points_stand_open_on_the_vehicle()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Say(Phrase.KeyOn);
        Assert.IsType<Refused>(bench.Do(new CloseJob("done")));
        Assert.False(bench.Job!.Ended);
    }

    // I19
    [Fact]
    public void A_cry_for_help_took_the_place_of_a_live_warning_that_nobody_had_answered()
    {
        var bench = new JobBench().Open().Until(NeedKind.TakeReading);
        bench.Read("65");
        bench.Say(Phrase.HelpMe);
        Assert.Equal(AlarmKind.Help, bench.Job!.Alarm!.Kind);
        bench.Say(Phrase.Affirm);
        Assert.Equal(AlarmKind.Live, bench.Job.Alarm!.Kind);
        bench.Say(Phrase.Affirm);
        Assert.Null(bench.Job.Alarm);
    }

    // I17
    [Fact]
    public void An_affirm_to_one_alarm_answered_the_next_one_of_its_kind()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        bench.Say(Phrase.KeyOn);
        var began = bench.Time.Now;
        var question = bench.Job!.Question!.Sequence;
        bench.Say(Phrase.EngineStarted);
        bench.Do(new Answer { Question = question, Began = began, By = By.Voice, Phrase = Phrase.Affirm });
        Assert.Contains("engine started", bench.Job.Alarm!.Text, StringComparison.Ordinal);
    }

    // I8, I9
    [Fact]
    public void A_confirmation_by_hold_left_no_trace_in_the_journal()
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint);
        bench.Say(Phrase.Opened, by: By.Button, held: Ticks.OfMilliseconds(1300));
        Assert.Equal(By.Button, bench.LastOf<CodeAccepted>().By);
        Assert.Single(bench.Job!.Points);
    }

    // I3
    [Fact]
    public void A_reading_said_again_with_another_kind_was_taken()
    {
        var bench = new JobBench().Open().Until(NeedKind.TakeReading);
        bench.Say(Phrase.Reading, "3");
        var refused = bench.Do(new Answer
        {
            Question = bench.Job!.Question!.Sequence, Began = bench.Time.Now, By = By.Voice, Phrase = Phrase.Reading, Number = "3", Kind = VoltageKind.Ac,
        });
        Assert.IsType<Refused>(refused);
        Assert.Equal(0, bench.Count<ReadingTaken>());
    }

    // I3: N is the lowest indication of the tester in use.
    [Fact]
    public void Below_was_taken_with_the_lowest_indication_of_another_tester()
    {
        var bench = new JobBench();
        var kit = DemoKit.Complete().Select(item => item.Id == DemoKit.SecondTester ? item with { LowestDc = Volts.Of(12) } : item);
        bench.Do(new OpenJob("job-1", "crew-4", "Ines", "Marit", false, default, default, [.. kit], DemoTime.Start));
        bench.Until(NeedKind.ProveTester);
        bench.Read("230", DemoKit.SecondTester);
        Assert.IsType<Refused>(bench.Read("6", DemoKit.SecondTester, below: true));
        Assert.IsType<Accepted>(bench.Read("12", DemoKit.SecondTester, below: true));
    }

    // I3, Kirchhoff (computed): 50 V from rail to rail cannot be less than 6 V from both rails to chassis.
    [Fact]
    public void A_missed_contact_passed_because_below_took_no_part_in_the_comparison()
    {
        var bench = new JobBench().Open().Until(NeedKind.TakeReading);
        bench.Read("50");
        bench.Read("6", below: true);
        Assert.IsType<Refused>(bench.Read("6", below: true));
        Assert.Null(bench.Job!.Test);
    }

    [Fact]
    public void Three_readings_below_the_lowest_indication_fit_together()
    {
        var bench = new JobBench().Open().Until(NeedKind.TakeReading);
        bench.Read("6", below: true);
        bench.Read("6", below: true);
        Assert.IsType<Accepted>(bench.Read("6", below: true));
        Assert.Equal(3, bench.Job!.Test!.Readings.Count);
    }

    // I2
    [Fact]
    public void Many_sleeps_too_short_to_notice_were_counted_as_waiting()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        for (var second = 0; second < 30; second++)
        {
            bench.Time.Sleep(Ticks.OfMilliseconds(90));
            bench.Pass(10);
            if (bench.Job!.Doubt)
            {
                return;
            }
        }

        Assert.Fail("2.7 s asleep were counted as waiting");
    }

    // I21
    [Fact]
    public void The_sheet_was_confirmed_before_its_vehicle_and_marking_were_said()
    {
        var bench = new JobBench().Open().Until(NeedKind.ChooseSheet);
        bench.Say(Phrase.Sheet, "7");
        var said = Wording.Echo(bench.Job!, bench.Job!.Question!);
        Assert.Contains("Test van", said, StringComparison.Ordinal);
        Assert.Contains("TV 800 on the left door pillar", said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("A12")]
    [InlineData("+7")]
    [InlineData("1234567")]
    public void A_lock_number_that_cannot_be_said_stopped_the_loop(string number)
    {
        var bench = new JobBench().Open().Until(NeedKind.FitLock);
        Assert.IsType<Refused>(bench.Say(Phrase.Fitted, number));
    }

    // 3 V, later 64 V = the earlier proof is void (computed; 29 CFR 1910.147(d)(5)(ii), published).
    [Fact]
    public void Voltage_that_built_up_again_after_the_proof_could_not_be_reported()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        Assert.Contains(PhraseBook.For(bench.Job!.Question), form => form.Phrase == Phrase.Watching);
        bench.Say(Phrase.Watching, "3");
        Assert.NotNull(bench.Job!.Clearance);
        bench.Say(Phrase.Watching, "64");
        Assert.Null(bench.Job.Clearance);
        Assert.Empty(bench.Job.Proofs);
        Assert.Equal(AlarmKind.Live, bench.Job.Alarm!.Kind);
    }

    // I22
    [Fact]
    public void A_misheard_cannot_do_left_no_way_back_to_the_step()
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint, 2);
        bench.Say(Phrase.CannotDo);
        bench.Say(Phrase.Wrong);
        Assert.Equal(NeedKind.OpenPoint, bench.Job!.Question!.Need.Kind);
        bench.Say(Phrase.CannotDo);
        bench.Say(Phrase.CannotReach);
        bench.Say(Phrase.Wrong);
        Assert.Equal(NeedKind.OpenPoint, bench.Job.Question!.Need.Kind);
        Assert.Null(bench.Job.Inability);
    }

    // I22: every step takes "cannot do", the waiting too.
    [Fact]
    public void A_wait_took_no_cannot_do()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        Assert.IsType<Accepted>(bench.Say(Phrase.CannotDo));
        Assert.Equal(NeedKind.InabilityReason, bench.Job!.Question!.Need.Kind);
    }

    // I3
    [Fact]
    public void Probes_that_missed_the_metal_ended_the_job_instead_of_the_test()
    {
        var bench = new JobBench().Open().Until(NeedKind.TakeReading);
        bench.Read("0");
        bench.Read("0");
        bench.Read("0");
        bench.Say(Phrase.Wrong);
        Assert.Null(bench.Job!.Test);
        Assert.Null(bench.Job.Halt);
        Assert.Equal(NeedKind.ProveTester, bench.Job.Question!.Need.Kind);
    }

    [Fact]
    public void The_prompts_of_a_dead_test_did_not_say_where()
    {
        var bench = new JobBench().Open().Until(NeedKind.ProveTester);
        Assert.StartsWith("Test at frontlink.", Wording.Ask(bench.Job!, bench.Job!.Question!), StringComparison.Ordinal);
        bench.Until(NeedKind.TakeReading);
        Assert.StartsWith("At front inverter, measure", Wording.Ask(bench.Job!, bench.Job!.Question!), StringComparison.Ordinal);
    }

    // 3 V, later 64 V (computed): also when the later one is called a watching reading.
    [Fact]
    public void A_reading_above_the_limit_in_the_middle_of_the_dead_test_left_the_test_standing()
    {
        var bench = new JobBench().Open().Until(NeedKind.TakeReading);
        bench.Read("3");
        bench.Say(Phrase.Watching, "64");
        Assert.Null(bench.Job!.Test);
        Assert.Equal(AlarmKind.Live, bench.Job.Alarm!.Kind);
        Assert.DoesNotContain(bench.Job.Waits.Values, run => run.Rule.Id.Value == "frontwait" && run.CompletedAt is not null);
    }

    // What was towed stands elsewhere, without its chocks.
    [Theory]
    [InlineData(Phrase.WheelsTurned, NeedKind.Act)]
    [InlineData(Phrase.VehicleTowed, NeedKind.Act)]
    [InlineData(Phrase.KeyOn, NeedKind.OpenPoint)]
    public void After_the_vehicle_had_moved_it_still_counted_as_chocked(Phrase phrase, NeedKind next)
    {
        var van = DemoSheets.Van();
        var chock = new Step { Id = new("chock"), Kind = StepKind.Act, Say = "Chock two wheels." };
        var bench = new JobBench { Sheet = van with { Steps = van.Steps.Insert(0, chock) } }.Open().Until(NeedKind.Working);
        bench.Say(phrase);
        bench.Say(Phrase.Affirm);
        Assert.Equal(next, bench.Job!.Question!.Need.Kind);
    }

    // "Every lock is removed" counts the locks of the register: one that another number replaces leaves it only with these words.
    [Fact]
    public void A_second_lock_of_the_same_person_took_the_first_off_the_register_without_a_word()
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint, 2);
        bench.Say(Phrase.KeyOn);
        bench.Until(NeedKind.FitLock);
        var old = bench.Job!.Locks[0].Number;
        bench.Say(Phrase.Fitted, "77");
        Assert.Contains($"Lock seven seven fitted in place of lock {SpokenNumber.Say(old)}, which is off, ", Wording.Echo(bench.Job, bench.Job.Question!), StringComparison.Ordinal);
        bench.Say(Phrase.Wrong);
        bench.Say(Phrase.Fitted, old);
        Assert.DoesNotContain("in place of", Wording.Echo(bench.Job, bench.Job.Question!), StringComparison.Ordinal);
    }

    // I2: far in the future the clock still tells how long the tablet was off, and is not taken for a clock that is set again and again.
    [Fact]
    public void From_the_year_2070_on_every_two_seconds_were_a_step_of_the_wall_clock()
    {
        var bench = new JobBench();
        bench.Time.StepWall(new DateTimeOffset(2100, 2, 28, 23, 59, 0, TimeSpan.Zero) - DemoTime.Start);
        bench.Open().Pass(120);
        Assert.Equal(0, bench.Count<ClockAnchored>());
        var full = bench.Job!.Clock.FullAt(bench.Time.Now);
        bench.Time.StepWall(TimeSpan.FromSeconds(500));
        bench.Time.Reboot();
        bench.Do(new Restarted());
        Assert.Equal(full + Ticks.OfSeconds(500), bench.Job.Clock.Full);
    }

    // A tablet whose clock forgets the date when it is off.
    [Fact]
    public void A_wall_clock_that_jumps_far_ahead_at_every_other_restart_stopped_the_rules()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        for (var restart = 0; restart < 10; restart++)
        {
            bench.Time.StepWall(TimeSpan.FromDays(365 * (restart % 2 == 0 ? -150 : 150)));
            bench.Time.Reboot();
            Assert.IsType<Accepted>(bench.Do(new Restarted()));
        }
    }

    [Fact]
    public void A_wall_clock_centuries_away_stopped_the_rules()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver);
        bench.Time.StepWall(TimeSpan.FromDays(365 * 1000));
        Assert.IsType<Accepted>(bench.Do(new Tick()));
    }
}
