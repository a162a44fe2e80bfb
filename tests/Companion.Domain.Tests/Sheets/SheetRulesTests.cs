using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;

namespace Companion.Domain.Tests.Sheets;

public sealed class SheetRulesTests
{
    private static readonly Sheet Good = SampleSheet.Of();

    [Fact]
    public void The_sample_has_no_faults() => Assert.Empty(SheetRules.Faults(Good));

    [Theory]
    [InlineData(0)]
    [InlineData(100)]
    public void A_number_is_one_to_ninety_nine(int number) => Fails(Good with { Number = number }, "number", "Give the sheet a free number from 1 to 99");

    [Theory]
    [InlineData(0)]
    [InlineData(1501)]
    // UN R100 par. 2, from memory
    public void The_highest_voltage_is_within_class_b_or_below_it(int volts) => Fails(Good with { HighestVolts = volts }, "highestvolts", "at most 1500 volts DC");

    // ISO 6469-3 and UN R100 par. 2, from memory: voltage class B begins over 60 V DC.
    [Theory]
    [InlineData(48, false)]
    [InlineData(60, false)]
    [InlineData(61, true)]
    public void A_sheet_at_or_under_60_volts_is_taken_and_known_to_hold_no_class_b(int volts, bool classB)
    {
        var sheet = Good with { HighestVolts = volts };
        Assert.Empty(SheetRules.Faults(sheet));
        Assert.Equal(classB, sheet.HoldsClassB);
    }

    [Theory]
    [InlineData(12, "12", "11", "testplaces[0].limitdc")]
    [InlineData(12, "11", "12", "testplaces[0].limitac")]
    [InlineData(48, "48", "12", "testplaces[0].limitdc")]
    [InlineData(48, "60", "12", "testplaces[0].limitdc")]
    public void No_limit_reaches_the_highest_voltage_for_a_live_vehicle_would_pass(int highest, string dc, string ac, string path) =>
        Fails(
            Good with { HighestVolts = highest, TestPlaces = [Good.TestPlaces[0] with { LimitDc = Volts.Parse(dc), LimitAc = Volts.Parse(ac) }] },
            path,
            "so that a live vehicle would pass");

    [Fact]
    public void A_sheet_under_60_volts_is_held_to_the_same_rules()
    {
        var mild = Good with { HighestVolts = 54 };
        Fails(mild with { Steps = mild.Steps.Without("test") }, "steps", "Add the dead test");
        Fails(mild with { Steps = mild.Steps.Without("linkwait") }, "steps", "Add a wait step for it");
        Fails(mild with { TestPlaces = [Good.TestPlaces[0] with { LimitAc = Volts.Of(31) }] }, "testplaces[0].limitac", "above the ceiling of 30 volts");
    }

    [Fact]
    public void A_wait_of_59_seconds_is_for_rehearsals_only()
    {
        var sheet = Good with { Waits = [Good.Waits[0], Good.Waits[1] with { Seconds = 59 }] };
        Fails(sheet, "waits[1].seconds", "mark the sheet with rehearsalonly: true");
        Assert.Empty(SheetRules.Faults(sheet with { RehearsalOnly = true }));
        Assert.Empty(SheetRules.Faults(Good with { Waits = [Good.Waits[0], Good.Waits[1] with { Seconds = 60 }] }));
    }

    [Fact]
    public void No_real_wait_is_shorter_than_the_time_by_which_a_crashed_vehicle_must_be_under_the_ceiling() =>
        Assert.Equal(60, SheetRules.LeastRealWaitSeconds); // UN GTR 20, as reported by NTSB SR-20/01

    [Fact]
    public void No_wait_is_shorter_than_a_second_even_in_a_rehearsal() =>
        Fails(Good with { RehearsalOnly = true, Waits = [Good.Waits[0], Good.Waits[1] with { Seconds = 0 }] }, "waits[1].seconds", "at least one second");

    // ISO 6469-4:2015 5.2.2, UN R94, FMVSS 305, published: 60 V DC, 30 V AC.
    [Theory]
    [InlineData("60", "30", null)]
    [InlineData("60.1", "30", "testplaces[0].limitdc")]
    [InlineData("60", "30.1", "testplaces[0].limitac")]
    [InlineData("0", "30", "testplaces[0].limitdc")]
    public void Limits_stay_at_or_under_the_ceilings(string dc, string ac, string? path)
    {
        var sheet = Good with { FloorVolts = Volts.Of(0), TestPlaces = [Good.TestPlaces[0] with { LimitDc = Volts.Parse(dc), LimitAc = Volts.Parse(ac) }] };
        Assert.Equal(path, SheetRules.Faults(sheet).FirstOrDefault()?.Path);
    }

    [Fact]
    public void A_window_is_over_zero() =>
        Fails(Good with { TestPlaces = [Good.TestPlaces[0] with { WindowSeconds = 0 }] }, "testplaces[0].windowseconds", "Give whole seconds");

    [Fact]
    public void A_test_place_has_pairs_and_all_three_rail_pairs_when_it_has_one()
    {
        var place = Good.TestPlaces[0];
        Fails(Good with { TestPlaces = [place with { Pairs = [] }] }, "testplaces[0].pairs", "Add the pairs");
        Fails(Good with { TestPlaces = [place with { Pairs = place.Pairs.RemoveAt(2) }] }, "testplaces[0].pairs", "0 pairs with the role negativetochassis");
        var mixed = place.Pairs.SetItem(1, place.Pairs[1] with { Kind = VoltageKind.Ac });
        Fails(Good with { TestPlaces = [place with { Pairs = mixed }] }, "testplaces[0].pairs", "mix dc and ac");
        var other = place with { Pairs = [new(new("phase"), "phase to phase", VoltageKind.Ac, PairRole.Other)] };
        Assert.Empty(SheetRules.Faults(Good with { TestPlaces = [other] }));
    }

    [Fact]
    public void A_floor_as_large_as_the_limit_would_let_a_missed_contact_pass() =>
        Fails(Good with { FloorVolts = Volts.Of(12) }, "floorvolts", "Make the floor smaller than the limit");

    [Fact]
    public void Every_id_stands_once()
    {
        Fails(Good with { Circuits = Good.Circuits.Add(Good.Circuits[0]) }, "circuits[2].id", "two circuits with the id 'link'");
        Fails(Good with { Points = Good.Points.Add(Good.Points[1]) }, "points[3].id", "two points with the id 'plug'");
        Fails(Good with { Waits = Good.Waits.Add(Good.Waits[1]) }, "waits[2].id", "two waits with the id 'link'");
        Fails(Good with { TestPlaces = Good.TestPlaces.Add(Good.TestPlaces[0]) }, "testplaces[1].id", "two test places");
        var pairs = Good.TestPlaces[0].Pairs;
        Fails(Good with { TestPlaces = [Good.TestPlaces[0] with { Pairs = pairs.Add(pairs[0]) }] }, "testplaces[0].pairs[3].id", "two pairs");
        Fails(Good with { Alternatives = Good.Alternatives.Add(Good.Alternatives[0]) }, "alternatives[1].id", "two alternative ways");
        Fails(Good with { Steps = Good.Steps.Insert(0, SampleSheet.Step("loop", StepKind.Act)) }, "alternatives[0].steps[3].id", "Step ids are unique in the whole sheet");
    }

    [Fact]
    public void Everything_named_exists()
    {
        Fails(Good with { Waits = [Good.Waits[0], Good.Waits[1] with { Circuit = new("lnk") }] }, "waits[1].circuit", "There is no circuit 'lnk' in this sheet. Use one of link, control");
        Fails(Good with { Points = Good.Points.SetItem(1, Good.Points[1] with { Circuits = [new("x")] }) }, "points[1].circuits[0]", "There is no circuit 'x'");
        Fails(Good with { TestPlaces = [Good.TestPlaces[0] with { Circuits = [new("x")] }] }, "testplaces[0].circuits[0]", "There is no circuit 'x'");
        Fails(Good with { TestPlaces = [Good.TestPlaces[0] with { Points = [new("x")] }] }, "testplaces[0].points[0]", "There is no point 'x'");
        Fails(Good with { Disturbances = [new(Disturbance.KeyOn, [new("x")], [])] }, "disturbances[0].circuits[0]", "There is no circuit 'x'");
        Fails(Good with { Disturbances = [new(Disturbance.KeyOn, [], [new("x")])] }, "disturbances[0].points[0]", "There is no point 'x'");
        Fails(WithStep(4, step => step with { Point = new("x") }), "steps[4].point", "There is no point 'x'");
        Fails(WithStep(7, step => step with { Wait = new("x") }), "steps[7].wait", "There is no wait 'x'");
        Fails(WithStep(8, step => step with { TestPlace = new("x") }), "steps[8].testplace", "There is no test place 'x'");
    }

    [Fact]
    public void A_step_names_what_its_kind_needs_and_nothing_else()
    {
        Fails(WithStep(4, step => step with { Point = null }), "steps[4].point", "Add the point's id");
        Fails(WithStep(7, step => step with { Wait = null }), "steps[7].wait", "Add the wait's id");
        Fails(WithStep(8, step => step with { TestPlace = null }), "steps[8].testplace", "Add the test place's id");
        Fails(WithStep(0, step => step with { Point = new("plug") }), "steps[0].point", "takes no point");
    }

    [Fact]
    public void Nothing_is_listed_in_vain()
    {
        var spare = new IsolationPoint(new("spare"), "spare", PointKind.Other, [], false);
        Fails(Good with { Points = Good.Points.Add(spare) }, "points[3]", "opened in no way");
        Fails(Good with { TestPlaces = Good.TestPlaces.Add(Good.TestPlaces[0] with { Id = new("spare") }) }, "testplaces[1]", "tested in no way");
        Fails(Good with { Circuits = Good.Circuits.Add(new(new("spare"), "spare")) }, "circuits[2]", "has no wait");
    }

    [Fact]
    public void An_alternative_leads_onwards_only()
    {
        var way = Good.Alternatives[0];
        Fails(Good with { Alternatives = [way with { For = [new("loop")] }] }, "alternatives[0].for[0]", "no step of an earlier way");
        Fails(Good with { Alternatives = [way with { For = [new("nowhere")] }] }, "alternatives[0].for[0]", "no step of an earlier way");
        Fails(Good with { Alternatives = [way with { For = [] }] }, "alternatives[0].for", "Name the steps");
        Fails(Good with { Alternatives = [way with { For = [new("plug"), new("plug")] }] }, "alternatives[0].for[1]", "already leads to another alternative");
        Fails(Good with { Alternatives = [way with { Id = WayId.Main }] }, "alternatives[0].id", "another id");
    }

    [Fact]
    public void What_happened_unwatched_cannot_be_narrowed_and_no_disturbance_stands_twice()
    {
        Fails(Good with { Disturbances = [new(Disturbance.Unwatched, [], [])] }, "disturbances[0].what", "always voids everything");
        Fails(Good with { Disturbances = [new(Disturbance.KeyOn, [], []), new(Disturbance.KeyOn, [], [])] }, "disturbances[1].what", "stands here twice");
    }

    private static Sheet WithStep(int index, Func<Step, Step> change) => Good with { Steps = Good.Steps.SetItem(index, change(Good.Steps[index])) };

    private static void Fails(Sheet sheet, string path, string mend) =>
        Assert.Contains(SheetRules.Faults(sheet), fault => fault.Path == path && fault.Message.Contains(mend, StringComparison.Ordinal));
}
