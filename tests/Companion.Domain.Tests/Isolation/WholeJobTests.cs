using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

public sealed class WholeJobTests
{
    [Fact]
    public void A_job_done_in_order_ends_clear_to_work_and_is_handed_over()
    {
        var bench = new JobBench().Open().Until(NeedKind.Working);

        Assert.NotNull(bench.Job!.Clearance);
        Assert.Equal(2, bench.Count<DeadProved>());
        Assert.Equal(0, bench.Count<StepRefused>());
        bench.Claim(Phrase.HandOver);
        Assert.True(bench.Job.Ended);
    }

    [Fact]
    public void A_job_does_not_open_while_equipment_is_missing()
    {
        var bench = new JobBench();
        var kit = DemoKit.Complete().RemoveAll(item => item.Kind == Kit.KitKind.Gloves);
        var refused = Assert.IsType<Refused>(bench.Do(new OpenJob(
            "job-1", "crew-4", "Ines", null, false, default, default, kit, DemoTime.Start)));

        Assert.Contains("Gloves", refused.Reason, StringComparison.Ordinal);
        Assert.Null(bench.Job);
    }

    [Fact]
    public void A_second_job_is_refused_while_one_is_open()
    {
        var bench = new JobBench().Open();
        bench.Open();
        Assert.IsType<Refused>(bench.Last);
    }

    [Fact]
    public void A_vehicle_with_an_open_point_is_handed_over_and_not_just_closed()
    {
        var bench = new JobBench().Open().Until(NeedKind.FitLock);
        Assert.IsType<Refused>(bench.Do(new CloseJob("done")));
        Assert.False(bench.Job!.Ended);
    }

    [Fact]
    public void A_job_in_which_nothing_was_opened_can_be_closed()
    {
        var bench = new JobBench().Open().Until(NeedKind.OpenPoint);
        Assert.IsType<Accepted>(bench.Do(new CloseJob("owner drove away")));
        Assert.True(bench.Job!.Ended);
    }
}
