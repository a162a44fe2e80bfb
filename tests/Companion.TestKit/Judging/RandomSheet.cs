using System.Collections.Immutable;
using Companion.Domain;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;

namespace Companion.TestKit.Judging;

/// <summary>Sound sheets from a seed: 1 to 4 circuits, points that feed one, some or all of them, waits of 60 to 900 s, 1 to 3 places, other ways.</summary>
public sealed class RandomSheet
{
    private static readonly VoltageKind[] Kinds = [VoltageKind.Dc, VoltageKind.Ac];

    private readonly Random _random;
    private readonly ImmutableArray<Circuit> _circuits;
    private readonly ImmutableArray<IsolationPoint> _points;
    private readonly ImmutableArray<WaitRule> _waits;
    private readonly ImmutableArray<TestPlace> _places;
    private readonly int _waysBesides;

    private RandomSheet(int seed)
    {
        _random = new Random(seed);
        _circuits = [.. Enumerable.Range(0, _random.Next(1, 5)).Select(index => new Circuit(
            new($"circuit{index}"), $"circuit {index}", index % 2 == 0 ? 500 + index : null))];
        var plugs = Enumerable.Range(0, _random.Next(1, 4)).Select(index => new IsolationPoint(
            new($"plug{index}"), $"plug {index}", PointKind.Plug, Subset(), _random.Next(3) > 0)).ToList();
        _waysBesides = _random.Next(0, 3);
        var loops = Enumerable.Range(0, _waysBesides).Select(index => new IsolationPoint(
            new($"loop{index}"), $"loop {index}", PointKind.Loop, plugs[0].Circuits, false));
        _points = [new(new("lowvolt"), "twelve volt battery", PointKind.LowVolt, [], _random.Next(2) > 0), .. plugs, .. loops];
        _waits = [.. _circuits.Select((circuit, index) => Wait($"wait{index}", circuit)), .. Enumerable.Range(0, _random.Next(0, 2))
            .Select(_ => Wait("waitmore", _circuits[0]))];
        _places = [.. Enumerable.Range(0, _random.Next(1, 4)).Select(Place)];
    }

    /// <summary>The sheet of a seed.</summary>
    public static Sheet Of(int seed) => new RandomSheet(seed).Write(seed);

    private Sheet Write(int seed) => new()
    {
        Id = $"random-{seed}",
        Number = 7,
        Edition = 1,
        Vehicle = "Random vehicle",
        Marking = "Random marking",
        Source = new SheetSource("Random method", "1", new DateOnly(2027, 6, 30)),
        Approver = "Test approver",
        HighestVolts = 800,
        RetestMinutes = _random.Next(5, 60),
        FloorVolts = Volts.Of(2),
        StaysLive = "the pack",
        Circuits = _circuits,
        Points = _points,
        Waits = _waits,
        TestPlaces = _places,
        Disturbances = [.. Enum.GetValues<Disturbance>().Where(what => what != Disturbance.Unwatched && _random.Next(3) == 0)
            .Select(what => new DisturbanceRule(what, _random.Next(3) == 0 ? [] : Subset(), _random.Next(2) == 0 ? [] : SomePoints()))],
        Steps = Steps("", "plug0"),
        Alternatives = [.. Enumerable.Range(0, _waysBesides).Select(Alternative)],
    };

    private AlternativeWay Alternative(int index) => new(
        new($"way{index}"),
        $"way {index}",
        [new(index == 0 ? "openplug0" : $"w{index - 1}openloop{index - 1}")],
        Steps($"w{index}", $"loop{index}"));

    /// <summary>Opens the 12 V battery, waits for what only it feeds, opens the rest with <paramref name="stand"/> in place of the first plug, waits, tests.</summary>
    private ImmutableArray<Step> Steps(string prefix, string stand)
    {
        var steps = new List<Step> { Plain($"{prefix}chock", StepKind.Act) };
        Open(steps, prefix, "lowvolt");
        var opened = _points.Where(point => point.Kind == PointKind.Plug && point.Id.Value != "plug0").Select(point => point.Id.Value).Append(stand);
        var fed = _points.Where(point => opened.Contains(point.Id.Value)).ToList();
        var early = _waits.Where(wait => !fed.Any(point => point.Feeds(wait.Circuit)) && _random.Next(2) == 0).ToList();
        steps.AddRange(early.Select(wait => Waiting(prefix, wait)));
        foreach (var point in opened.OrderBy(_ => _random.Next()).ToList())
        {
            Open(steps, prefix, point);
        }

        if (_random.Next(2) == 0)
        {
            steps.Add(Plain($"{prefix}coverearly", StepKind.Cover));
        }

        steps.AddRange(_waits.Except(early).OrderBy(_ => _random.Next()).Select(wait => Waiting(prefix, wait)));
        steps.AddRange(_places.OrderBy(_ => _random.Next()).Select(place => new Step
        {
            Id = new($"{prefix}test{place.Id}"), Kind = StepKind.Test, Say = $"Test at {place.Name}.", TestPlace = place.Id, Exposes = true,
        }));
        steps.Add(Plain($"{prefix}cover", StepKind.Cover));
        steps.Add(Plain($"{prefix}clear", StepKind.Clear));
        return [.. steps];
    }

    private void Open(List<Step> steps, string prefix, string point)
    {
        steps.Add(new Step { Id = new($"{prefix}open{point}"), Kind = StepKind.Open, Say = $"Open {point}.", Point = new(point) });
        if (_points.First(one => one.Id.Value == point).Lockable)
        {
            steps.Add(new Step { Id = new($"{prefix}lock{point}"), Kind = StepKind.Lock, Say = $"Lock {point}.", Point = new(point) });
        }
    }

    private WaitRule Wait(string id, Circuit circuit) => new(new(id), id, circuit.Id, _random.Next(60, 901));

    private TestPlace Place(int index) => new(
        new($"place{index}"),
        $"place {index}",
        index == 0 || _random.Next(3) == 0 ? [] : Subset(),
        [],
        Pairs(),
        Volts.Of(_random.Next(12, 61)),
        Volts.Of(_random.Next(12, 31)),
        _random.Next(60, 600));

    private ImmutableArray<ProbePair> Pairs()
    {
        var extra = Kinds.Where(_ => _random.Next(3) == 0)
            .Select(kind => new ProbePair(new($"extra{kind}".ToLowerInvariant()), $"extra {kind}", kind, PairRole.Other));
        ProbePair[] rails =
        [
            new(new("rails"), "positive to negative", VoltageKind.Dc, PairRole.RailToRail),
            new(new("positive"), "positive to chassis", VoltageKind.Dc, PairRole.PositiveToChassis),
            new(new("negative"), "negative to chassis", VoltageKind.Dc, PairRole.NegativeToChassis),
        ];
        return [.. extra.Concat(rails).OrderBy(_ => _random.Next())];
    }

    private ImmutableArray<CircuitId> Subset()
    {
        var some = _circuits.Where(_ => _random.Next(2) == 0).Select(circuit => circuit.Id).ToImmutableArray();
        return some.IsEmpty ? [_circuits[_random.Next(_circuits.Length)].Id] : some;
    }

    private ImmutableArray<PointId> SomePoints() => [.. _points.Where(_ => _random.Next(2) == 0).Select(point => point.Id)];

    private static Step Waiting(string prefix, WaitRule wait) =>
        new() { Id = new($"{prefix}{wait.Id}"), Kind = StepKind.Wait, Say = $"Wait for {wait.Name}.", Wait = wait.Id };

    private static Step Plain(string id, StepKind kind) => new() { Id = new(id), Kind = kind, Say = $"{kind}." };
}
