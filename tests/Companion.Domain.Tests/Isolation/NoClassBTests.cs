using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Reacting;
using Companion.Domain.Sheets;
using Companion.TestKit;

namespace Companion.Domain.Tests.Isolation;

/// <summary>A vehicle that by its sheet holds no voltage class B (ISO 6469-3, from memory: over 60 V DC) goes the whole way all the same.</summary>
public sealed class NoClassBTests
{
    [Fact]
    public void Pinning_such_a_sheet_says_what_it_is_and_that_nothing_is_left_out()
    {
        var said = SaidAtPinning(DemoSheets.Mild());

        Assert.Equal(
            "Recorded: the sheet is Test mild hybrid. By this sheet the vehicle holds at most 54 volts: no class B voltage. "
            + "Arcs and heat still burn. Everything else goes on as the sheet says.",
            said);
    }

    [Fact]
    public void Pinning_any_other_sheet_says_the_vehicle_alone() => Assert.Equal("Recorded: the sheet is Test van.", SaidAtPinning(DemoSheets.Van()));

    [Fact]
    public void The_demo_sheet_has_no_fault() => Assert.Empty(SheetRules.Faults(DemoSheets.Mild()));

    // I1, I3, I6: every step, wait and reading of the van is asked for on the mild hybrid too.
    [Fact]
    public void It_is_isolated_waited_for_and_tested_like_every_vehicle()
    {
        var mild = new JobBench { Sheet = DemoSheets.Mild() }.Open().Prepare().Until(NeedKind.Working);
        var van = new JobBench().Open().Prepare().Until(NeedKind.Working);

        Assert.Equal(van.Log.Select(one => one.Event.GetType()), mild.Log.Select(one => one.Event.GetType()));
        Assert.Equal((4, 3, 2), (mild.Count<PointOpened>() + 1, mild.Count<WaitCompleted>(), mild.Count<DeadProved>()));
    }

    // I21: the sheet's own highest voltage still stops the job, though the reading is under class B.
    [Fact]
    public void A_reading_above_its_highest_voltage_stops_the_job()
    {
        var bench = new JobBench { Sheet = DemoSheets.Mild() }.Open().Prepare().Until(NeedKind.TakeReading);
        bench.Read("55");
        Assert.NotNull(bench.Job!.Halt);
    }

    private static string SaidAtPinning(Sheet sheet)
    {
        var bench = new JobBench { Sheet = sheet }.Open().Prepare();
        var pinned = bench.Log.Single(one => one.Event is SheetPinned);
        return Assert.IsType<Say>(Assert.Single(React.To(bench.Job!, pinned.Event, pinned.Moment))).Text;
    }
}
