using Companion.Domain.Kit;
using Companion.Domain.Sheets;
using Companion.Engine.Codec;

namespace Companion.Sheets.Tests;

public sealed class SeedTests
{
    private static readonly DateOnly DemoDay = new(2026, 11, 25);

    public static TheoryData<string> Sheets() => [.. Seeds.SheetNames()];

    public static TheoryData<string> Rehearsed() =>
        [.. Seeds.SheetNames().Where(name => name.EndsWith("-rehearsal", StringComparison.Ordinal)).Select(name => name[..^"-rehearsal".Length])];

    [Fact]
    public void There_are_ten_vehicles_and_three_rehearsal_copies()
    {
        Assert.Equal(13, Seeds.SheetNames().Count());
        Assert.Equal(3, Rehearsed().Count);
    }

    // The kinds of vehicle that a technician meets, and the waits that makers publish: 2, 5, 10 and 15 minutes, restraint systems up to
    // 5 minutes after 12 V off (NHTSA), as reported.
    [Fact]
    public void The_vehicles_are_of_every_kind_and_their_waits_are_those_that_makers_publish()
    {
        var sheets = SheetLibrary.Load(Seeds.SheetFolder).Sheets.Where(sheet => !sheet.RehearsalOnly).ToList();
        Assert.Equal([4], sheets.Where(sheet => !sheet.HoldsClassB).Select(sheet => sheet.Number));
        Assert.Equal([1, 5, 10], sheets.Where(sheet => sheet.Alternatives.Length > 0).Select(sheet => sheet.Number));
        Assert.Equal([3, 4], sheets.Where(sheet => sheet.Points.Any(point => point.Kind == PointKind.Engine)).Select(sheet => sheet.Number));
        Assert.Equal([4, 10], sheets.Where(sheet => sheet.Source.Attachment is not null).Select(sheet => sheet.Number));
        Assert.All(sheets.SelectMany(sheet => sheet.Waits), wait => Assert.Contains(wait.Seconds, (int[])[120, 180, 300, 600, 900]));
        Assert.All(sheets.SelectMany(sheet => sheet.Waits).Where(wait => wait.Id.Value == "restraint"), wait => Assert.InRange(wait.Seconds, 1, 300));
        Assert.All(sheets.SelectMany(sheet => sheet.Waits).Where(wait => wait.Id.Value != "restraint"), wait => Assert.Contains(wait.Seconds, (int[])[120, 300, 600, 900]));
    }

    [Theory]
    [MemberData(nameof(Sheets))]
    public void Every_seed_sheet_reads_without_a_problem(string name)
    {
        var reading = SheetReader.Read(Seeds.Text(name));
        Assert.Empty(reading.Problems);
        Assert.NotNull(reading.Sheet);
    }

    [Theory]
    [MemberData(nameof(Sheets))]
    public void Every_seed_sheet_says_at_its_head_that_it_is_invented(string name) =>
        Assert.StartsWith("# Invented. No such vehicle exists: for trying out the Companion only. Must not be used on a vehicle.", Seeds.Text(name));

    [Theory]
    [MemberData(nameof(Rehearsed))]
    public void A_rehearsal_copy_differs_only_in_name_number_and_waits(string name)
    {
        var real = Seeds.Sheet(name);
        var copy = Seeds.Sheet(name + "-rehearsal");
        var restored = copy with
        {
            Id = real.Id,
            Number = real.Number,
            Vehicle = real.Vehicle,
            RehearsalOnly = false,
            Waits = [.. copy.Waits.Zip(real.Waits, (quick, slow) => quick with { Seconds = slow.Seconds })],
        };
        Assert.Equal(SheetJson.Write(real).ToJsonString(), SheetJson.Write(restored).ToJsonString());
        Assert.True(copy.RehearsalOnly);
        Assert.Equal(real.Number + 50, copy.Number);
        Assert.Equal(real.Vehicle + ", rehearsal", copy.Vehicle);
        Assert.All(copy.Waits, wait => Assert.InRange(wait.Seconds, 5, 60));
    }

    [Theory]
    [MemberData(nameof(Sheets))]
    public void Prompts_are_listenable_and_promise_nothing(string name)
    {
        var sheet = Seeds.Sheet(name);
        foreach (var say in sheet.Steps.Concat(sheet.Alternatives.SelectMany(way => way.Steps)).Select(step => step.Say))
        {
            Assert.DoesNotContain(say, char.IsDigit);
            Assert.DoesNotContain("lock on", say, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("lock off", say, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("safe", say, StringComparison.OrdinalIgnoreCase);
            Assert.True(say.Split(' ').Length <= 20, say);
            Assert.EndsWith(".", say, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("standard", new[] { 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 51, 52, 53 })]
    [InlineData("short-reach", new[] { 1, 3, 4, 8, 9, 10, 51, 53 })]
    [InlineData("out-of-date", new int[0])]
    public void Each_kit_serves_the_sheets_that_it_should(string name, int[] numbers)
    {
        var reading = KitReader.ReadFile(Path.Combine(Seeds.Folder, "kit", name + ".yaml"));
        Assert.Empty(reading.Problems);
        Assert.Empty(KitRules.Missing(reading.Kit!.Items));
        var served = SheetLibrary.Load(Seeds.SheetFolder).Sheets.Where(sheet => Serves(reading.Kit, sheet)).Select(sheet => sheet.Number);
        Assert.Equal(numbers, served);
    }

    [Fact]
    public void The_short_reach_kit_is_refused_for_the_van_because_of_its_tester()
    {
        var kit = KitReader.ReadFile(Path.Combine(Seeds.Folder, "kit", "short-reach.yaml")).Kit!;
        var van = Seeds.Sheet("hollin-drover");
        var faults = kit.Items.Select(item => KitRules.Fault(item, van, DemoDay, RatingPolicy.AcFigure)).OfType<string>();
        // Common practice, no source: a tester to 600 V must be refused on an 800 V class vehicle.
        Assert.Equal("two-pole tester: it reads to 600 volts DC, and this vehicle holds up to 830 volts. Take one that reads to 830 volts or more.", Assert.Single(faults));
    }

    [Fact]
    public void The_crew_reads()
    {
        var reading = CrewReader.ReadFile(Path.Combine(Seeds.Folder, "crew.yaml"));
        Assert.Empty(reading.Problems);
        Assert.Equal(["Maren Oake", "Tobin Rusk", "Ifeoma Strand"], reading.Crew!.Technicians.Select(person => person.Name));
        Assert.Equal(["della", "tobin"], reading.Crew.SecondPersons.Select(person => person.Id));
    }

    private static bool Serves(KitList kit, Sheet sheet) => kit.Items.All(item => KitRules.Fault(item, sheet, DemoDay, RatingPolicy.AcFigure) is null);
}
