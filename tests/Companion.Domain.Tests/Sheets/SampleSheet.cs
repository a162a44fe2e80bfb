using System.Collections.Immutable;
using Companion.Domain.Electrical;
using Companion.Domain.Sheets;

namespace Companion.Domain.Tests.Sheets;

/// <summary>A small sheet without faults, from which tests make faulty ones.</summary>
public static class SampleSheet
{
    public static Sheet Of(int highestVolts = 400, VoltageKind kind = VoltageKind.Dc) => new()
    {
        Id = "sample",
        Number = 7,
        Edition = 1,
        Vehicle = "sample car",
        Marking = "door pillar",
        Source = new("sample manual", "1", new DateOnly(2027, 8, 31)),
        Approver = "desk",
        HighestVolts = highestVolts,
        RetestMinutes = 60,
        FloorVolts = Volts.Of(5),
        StaysLive = "the pack",
        Circuits = [new(new("link"), "link"), new(new("control"), "control units")],
        Points =
        [
            new(new("lowvolt"), "twelve volt", PointKind.LowVolt, [], true),
            new(new("plug"), "plug", PointKind.Plug, [new("link")], true),
            new(new("loop"), "loop", PointKind.Loop, [new("link")], false),
        ],
        Waits = [new(new("control"), "control units", new("control"), 120), new(new("link"), "link", new("link"), 600)],
        TestPlaces = [Place(kind)],
        Steps =
        [
            Step("chock", StepKind.Act),
            Step("lowvolt", StepKind.Open) with { Point = new("lowvolt") },
            Step("lowvoltlock", StepKind.Lock) with { Point = new("lowvolt") },
            Step("controlwait", StepKind.Wait) with { Wait = new("control") },
            Step("plug", StepKind.Open) with { Point = new("plug") },
            Step("pluglock", StepKind.Lock) with { Point = new("plug") },
            Step("cover", StepKind.Cover),
            Step("linkwait", StepKind.Wait) with { Wait = new("link") },
            Step("test", StepKind.Test) with { TestPlace = new("inverter"), Exposes = true },
            Step("clear", StepKind.Clear),
        ],
        Alternatives = [new(new("byloop"), "by the loop", [new("plug")], Loop())],
    };

    public static Step Step(string id, StepKind kind) => new() { Id = new(id), Kind = kind, Say = id };

    public static ImmutableArray<Step> Without(this ImmutableArray<Step> steps, string id) => [.. steps.Where(step => step.Id.Value != id)];

    public static ImmutableArray<Step> Swapped(this ImmutableArray<Step> steps, string one, string other)
    {
        var first = steps.IndexOf(steps.First(step => step.Id.Value == one));
        var second = steps.IndexOf(steps.First(step => step.Id.Value == other));
        return steps.SetItem(first, steps[second]).SetItem(second, steps[first]);
    }

    private static TestPlace Place(VoltageKind kind) => new(
        new("inverter"),
        "inverter",
        [new("link")],
        [],
        [
            new(new("rails"), "positive to negative", kind, PairRole.RailToRail),
            new(new("positive"), "positive to chassis", kind, PairRole.PositiveToChassis),
            new(new("negative"), "negative to chassis", kind, PairRole.NegativeToChassis),
        ],
        Volts.Of(12),
        Volts.Of(12),
        600);

    private static ImmutableArray<Step> Loop() =>
    [
        Step("looplowvolt", StepKind.Open) with { Point = new("lowvolt") },
        Step("looplowvoltlock", StepKind.Lock) with { Point = new("lowvolt") },
        Step("loopcontrolwait", StepKind.Wait) with { Wait = new("control") },
        Step("loop", StepKind.Open) with { Point = new("loop") },
        Step("looplinkwait", StepKind.Wait) with { Wait = new("link") },
        Step("looptest", StepKind.Test) with { TestPlace = new("inverter"), Exposes = true },
        Step("loopclear", StepKind.Clear),
    ];
}
