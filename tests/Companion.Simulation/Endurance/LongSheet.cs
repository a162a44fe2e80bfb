using System.Collections.Immutable;
using Companion.Domain;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.TestKit;

namespace Companion.Simulation.Endurance;

/// <summary>An invented sheet with any number of waits that all start at one plug.</summary>
internal static class LongSheet
{
    /// <summary>A sheet whose waits are spread evenly from one to thirty minutes.</summary>
    public static Sheet Of(int waits) => DemoSheets.Van() with
    {
        Id = $"long-{waits}",
        Vehicle = "Test vehicle of many circuits",
        Circuits = [.. Numbers(waits).Select(number => new Circuit(new($"circuit{number}"), $"circuit {number}"))],
        Points = [new(new("lowvolt"), "twelve volt battery", PointKind.LowVolt, [], false), new(new("plug"), "plug", PointKind.Plug, [], true)],
        Waits = [.. Numbers(waits).Select(number => new WaitRule(new($"wait{number}"), $"wait {number}", new($"circuit{number}"), 60 + (number * 1740 / waits)))],
        TestPlaces = [new(new("place"), "the place", [], [], Pairs, Volts.Of(60), Volts.Of(30), 600)],
        Disturbances = [],
        Steps =
        [
            Plain("openlowvolt", StepKind.Open) with { Point = new("lowvolt") },
            Plain("openplug", StepKind.Open) with { Point = new("plug") },
            Plain("lockplug", StepKind.Lock) with { Point = new("plug") },
            .. Numbers(waits).Select(number => Plain($"step{number}", StepKind.Wait) with { Wait = new($"wait{number}") }),
            Plain("test", StepKind.Test) with { TestPlace = new("place") },
            Plain("cover", StepKind.Cover),
            Plain("clear", StepKind.Clear),
        ],
        Alternatives = [],
    };

    private static ImmutableArray<ProbePair> Pairs =>
    [
        new(new("rails"), "positive to negative", VoltageKind.Dc, PairRole.RailToRail),
        new(new("positive"), "positive to chassis", VoltageKind.Dc, PairRole.PositiveToChassis),
        new(new("negative"), "negative to chassis", VoltageKind.Dc, PairRole.NegativeToChassis),
    ];

    private static IEnumerable<int> Numbers(int count) => Enumerable.Range(1, count);

    private static Step Plain(string id, StepKind kind) => new() { Id = new(id), Kind = kind, Say = $"{kind}." };
}
