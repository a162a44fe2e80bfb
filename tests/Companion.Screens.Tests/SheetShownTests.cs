using Companion.Domain.Asking;
using Companion.Domain.Sheets;
using Companion.Screens.Showing;
using Companion.Screens.Tests.Support;
using Companion.TestKit;

namespace Companion.Screens.Tests;

public sealed class SheetShownTests
{
    private static readonly DateOnly Today = new(2026, 11, 25);

    [Fact]
    public void A_sheet_without_class_b_says_so_from_its_pinning_to_the_end()
    {
        var bench = new JobBench { Sheet = DemoSheets.Mild() }.Open().Until(NeedKind.ChooseSheet);
        var screen = new ScreenBench(bench);
        screen.Settle();
        Assert.Empty(screen.Screen.View.Note);

        foreach (var kind in new[] { NeedKind.CheckKit, NeedKind.OpenPoint, NeedKind.TakeReading, NeedKind.Working })
        {
            bench.Until(kind);
            screen.Settle();
            Assert.StartsWith("By this sheet the vehicle holds at most 54 volts: no class B voltage. Arcs and heat still burn.", screen.Screen.View.Note, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void No_other_sheet_has_a_note() => Assert.Empty(ScreenBench.At(NeedKind.OpenPoint).Screen.View.Note);

    [Theory]
    [InlineData(0, false)]
    [InlineData(-1, true)]
    public void A_stale_sheet_is_marked_where_it_is_chosen(int days, bool overdue)
    {
        var bench = new JobBench { Sheet = Reviewed(DateOnly.FromDateTime(DemoTime.Start.Date).AddDays(days)) }.Open().Until(NeedKind.ChooseSheet);
        Assert.Equal(overdue, Assert.Single(SheetLine.Of(bench.Job!, new FakeSheets(bench.Sheet))).Overdue);
    }

    [Fact]
    public void A_number_is_read_as_the_sheet_on_offer()
    {
        var reading = SheetReadingView.Of(7, new ScreenBench().Snapshot, new FakeSheets(DemoSheets.Van()), Today);
        Assert.Equal(("test-van", true), (reading.Sheet!.Id, reading.IsOffered));
        Assert.Empty(reading.Marks);
    }

    [Fact]
    public void A_job_is_read_with_its_own_sheet_when_the_file_was_changed_and_without_the_other_document()
    {
        var screen = ScreenBench.At(NeedKind.OpenPoint);
        var reading = SheetReadingView.Of(7, screen.Snapshot, new FakeSheets(DemoSheets.Van() with { Edition = 9 }), Today);
        Assert.Equal((2, false), (reading.Sheet!.Edition, reading.IsOffered));
        Assert.Equal(["The sheet of this job. The file was changed since, and its document is not shown."], reading.Marks.AsEnumerable());
    }

    [Fact]
    public void What_must_be_known_stands_above_the_sheet()
    {
        var sheet = Reviewed(Today.AddDays(-1)) with { RehearsalOnly = true };
        var reading = SheetReadingView.Of(7, new ScreenBench().Snapshot, new FakeSheets(sheet), Today);
        Assert.Equal(["For rehearsals only.", "Past its review date. Get the maker's present method."], reading.Marks.AsEnumerable());
    }

    [Fact]
    public void A_number_without_a_sheet_gives_none() =>
        Assert.Null(SheetReadingView.Of(8, new ScreenBench().Snapshot, new FakeSheets(DemoSheets.Van()), Today).Sheet);

    private static Sheet Reviewed(DateOnly by) => DemoSheets.Van() with { Source = DemoSheets.Van().Source with { ReviewBy = by } };
}
