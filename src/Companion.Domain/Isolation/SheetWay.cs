using System.Collections.Immutable;
using Companion.Domain.Sheets;

namespace Companion.Domain.Isolation;

/// <summary>One way through a sheet with what belongs to it: the points that its steps open, the waits and places that its steps use.</summary>
public sealed class SheetWay
{
    private SheetWay(Sheet sheet, WayId id, ImmutableArray<Step> steps)
    {
        Sheet = sheet;
        Id = id;
        Steps = steps;
        var opened = steps.Where(step => step.Kind == StepKind.Open).Select(step => step.Point).ToHashSet();
        Points = [.. sheet.Points.Where(point => opened.Contains(point.Id))];
        var places = steps.Where(step => step.Kind == StepKind.Test).Select(step => step.TestPlace).ToHashSet();
        TestPlaces = [.. sheet.TestPlaces.Where(place => places.Contains(place.Id))];
        var fed = sheet.Circuits.Where(circuit => Points.Any(point => point.Feeds(circuit.Id))).Select(circuit => circuit.Id).ToHashSet();
        Waits = [.. sheet.Waits.Where(wait => fed.Contains(wait.Circuit))];
    }

    /// <summary>The sheet.</summary>
    public Sheet Sheet { get; }

    /// <summary>Which way.</summary>
    public WayId Id { get; }

    /// <summary>Its steps in order.</summary>
    public ImmutableArray<Step> Steps { get; }

    /// <summary>The points that it opens.</summary>
    public ImmutableArray<IsolationPoint> Points { get; }

    /// <summary>The places that it tests.</summary>
    public ImmutableArray<TestPlace> TestPlaces { get; }

    /// <summary>The waits of every circuit that its points feed.</summary>
    public ImmutableArray<WaitRule> Waits { get; }

    /// <summary>The way with this id. An unknown id is a fault of the caller.</summary>
    /// <exception cref="ArgumentException">The sheet has no such way.</exception>
    public static SheetWay Of(Sheet sheet, WayId id)
    {
        if (id == WayId.Main)
        {
            return new SheetWay(sheet, id, sheet.Steps);
        }

        var way = sheet.Alternatives.FirstOrDefault(alternative => alternative.Id == id)
            ?? throw new ArgumentException($"The sheet {sheet.Id} has no way '{id}'.", nameof(id));
        return new SheetWay(sheet, id, way.Steps);
    }

    /// <summary>The points of this way that feed a circuit.</summary>
    public IEnumerable<IsolationPoint> Feeders(CircuitId circuit) => Points.Where(point => point.Feeds(circuit));

    /// <summary>The waits that a test place depends on.</summary>
    public IEnumerable<WaitRule> WaitsOf(TestPlace place) => Waits.Where(wait => place.Covers(wait.Circuit));

    /// <summary>The points whose opening a test place proves: those it names and all that feed its circuits.</summary>
    public IEnumerable<IsolationPoint> PointsOf(TestPlace place) =>
        Points.Where(point => place.Points.IsDefaultOrEmpty
            || place.Points.Contains(point.Id)
            || Sheet.Circuits.Any(circuit => place.Covers(circuit.Id) && point.Feeds(circuit.Id)));
}
