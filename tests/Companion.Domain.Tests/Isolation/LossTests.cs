using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

public sealed class LossTests
{
    // I5
    [Theory]
    [InlineData(Phrase.KeyOn)]
    [InlineData(Phrase.EngineStarted)]
    [InlineData(Phrase.LowVoltRestored)]
    [InlineData(Phrase.VehicleWoke)]
    [InlineData(Phrase.PlugRefitted)]
    [InlineData(Phrase.WheelsTurned)]
    [InlineData(Phrase.VehicleTowed)]
    public void A_disturbance_voids_every_wait_and_proof_and_says_so(Phrase phrase)
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Say(phrase);
        Assert.Empty(bench.Job!.Waits);
        Assert.Empty(bench.Job.Proofs);
        Assert.Empty(bench.Job.Points);
        Assert.Null(bench.Job.Clearance);
        Assert.Equal(AlarmKind.Void, bench.Job.Alarm!.Kind);
    }

    // I5
    [Fact]
    public void A_disturbance_of_one_circuit_leaves_the_proof_of_the_other()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Say(Phrase.ChargerConnected);
        Assert.Equal([new TestPlaceId("frontlink")], bench.Job!.Proofs.Keys);
        Assert.Null(bench.Job.Clearance);
    }

    [Fact]
    public void A_disturbance_cannot_be_corrected_away()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Say(Phrase.KeyOn);
        bench.Say(Phrase.Wrong);
        bench.Say(Phrase.Affirm);
        Assert.Empty(bench.Job!.Proofs);
        Assert.Equal(NeedKind.OpenPoint, bench.Job.Question!.Need.Kind);
    }

    [Fact]
    public void After_a_disturbance_the_job_can_be_done_again_to_the_end()
    {
        var bench = new JobBench().Open().Until(NeedKind.WaitOver, 130);
        bench.Say(Phrase.KeyOn);
        bench.Until(NeedKind.Working);
        Assert.NotNull(bench.Job!.Clearance);
    }

    // I15
    [Fact]
    public void Clear_to_work_lapses_at_the_time_of_the_next_test()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Pass(29 * 60);
        Assert.NotNull(bench.Job!.Clearance);
        bench.Pass(61);
        Assert.Null(bench.Job.Clearance);
        Assert.Empty(bench.Job.Proofs);
        Assert.Equal(NeedKind.ProveTester, bench.Job.Question!.Need.Kind);
    }

    // I15
    [Fact]
    public void Clear_to_work_lapses_at_a_restart_and_at_a_sleep()
    {
        var slept = new JobBench().Open().Until(NeedKind.Working);
        slept.Time.Sleep(Ticks.OfSeconds(3));
        slept.Do(new Tick());
        Assert.Null(slept.Job!.Clearance);

        var restarted = new JobBench().Open().Until(NeedKind.Working);
        restarted.Do(new Restarted());
        Assert.Null(restarted.Job!.Clearance);
        Assert.Equal(1, restarted.Count<WorkLapsed>());
    }

    // I16
    [Fact]
    public void After_a_restart_the_proofs_are_void_because_the_record_may_have_been_in_doubt()
    {
        var bench = new JobBench().Open().Until(NeedKind.TakeReading, 4);
        Assert.Single(bench.Job!.Proofs);
        bench.Do(new Restarted());
        Assert.Empty(bench.Job.Proofs);
    }

    [Fact]
    public void Stop_takes_effect_at_once_and_going_on_needs_a_code()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);
        bench.Say(Phrase.Stop);
        Assert.Null(bench.Job!.Clearance);
        Assert.Equal(AlarmKind.Stop, bench.Job.Alarm!.Kind);
        bench.Say(Phrase.Affirm);
        Assert.Equal(NeedKind.GoOn, bench.Job.Question!.Need.Kind);
        bench.Claim(Phrase.Ready);
        Assert.Null(bench.Job.Halt);
        Assert.Equal(NeedKind.ProveTester, bench.Job.Question!.Need.Kind);
    }

    // I22
    [Fact]
    public void Cannot_do_leads_to_the_other_way_and_the_job_ends_clear_by_it()
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint, 2);
        bench.Say(Phrase.CannotDo);
        Assert.Equal(NeedKind.InabilityReason, bench.Job!.Question!.Need.Kind);
        bench.Say(Phrase.CannotReach);
        bench.Claim(Phrase.OtherWay);
        Assert.Equal(new WayId("loop"), bench.Job.Way!.Id);
        bench.Until(NeedKind.Working);
        Assert.Contains(new PointId("frontloop"), bench.Job.Points.Keys);
    }

    // I22
    [Fact]
    public void Cannot_do_without_another_way_ends_in_treat_as_live()
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint, 3);
        bench.Say(Phrase.CannotDo);
        bench.Say(Phrase.Stuck);
        Assert.True(bench.Job!.Halt!.Final);
        bench.Say(Phrase.Affirm);
        bench.Claim(Phrase.HandOver);
        Assert.True(bench.Job.Ended);
    }

    // I21
    [Fact]
    public void A_point_that_is_not_there_stops_the_job()
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint, 2);
        bench.Say(Phrase.CannotDo);
        bench.Say(Phrase.NotThere);
        Assert.True(bench.Job!.Halt!.Final);
    }

    // I22: never round in a loop.
    [Fact]
    public void Cannot_do_at_every_turn_always_comes_to_an_end()
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint, 2);
        for (var turn = 0; turn < 40 && bench.Job!.Halt is not { Final: true }; turn++)
        {
            _ = bench.Job.Question!.Need.Kind switch
            {
                NeedKind.InabilityReason => bench.Say(Phrase.CannotReach),
                NeedKind.TakeWay => bench.Claim(Phrase.OtherWay),
                NeedKind.AlarmHeard => bench.Say(Phrase.Affirm),
                NeedKind.WaitOver => bench.Pass(60).Last,
                _ => bench.Say(Phrase.CannotDo),
            };
        }

        Assert.True(bench.Job!.Halt!.Final);
    }

    // HSE lone-working guidance (published): at least one other person near exposed live conductors.
    [Fact]
    public void A_step_that_exposes_live_parts_is_refused_alone()
    {
        var alone = new JobBench().Open(secondPerson: null).Until(NeedKind.ProveTester);
        Assert.IsType<Refused>(alone.Say(Phrase.Reading, "230"));

        var allowed = new JobBench().Open(null, ExposurePolicy.AloneAllowed).Until(NeedKind.ProveTester);
        Assert.IsType<Accepted>(allowed.Say(Phrase.Reading, "230"));
    }

    // I23
    [Fact]
    public void An_operator_who_allows_it_alone_is_on_record_with_the_policy()
    {
        var opened = new JobBench().Open(null, ExposurePolicy.AloneAllowed).LastOf<JobOpened>();
        Assert.Null(opened.SecondPerson);
        Assert.Equal(ExposurePolicy.AloneAllowed, opened.Policy); // HSE INDG73, published: working alone is settled by the risk assessment
    }
}
