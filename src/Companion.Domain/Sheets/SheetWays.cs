using System.Collections.Immutable;

namespace Companion.Domain.Sheets;

/// <summary>One way through a sheet with its place in the file.</summary>
/// <param name="Id">The way's id.</param>
/// <param name="Path">Where its steps stand: "steps" or "alternatives[0].steps".</param>
/// <param name="Steps">Its steps.</param>
internal sealed record WrittenWay(WayId Id, string Path, ImmutableArray<Step> Steps)
{
    public string StepPath(int index) => $"{Path}[{index}]";

    /// <summary>The index of the last opening of a point that feeds the circuit, or -1.</summary>
    public int LastOpening(Sheet sheet, CircuitId circuit)
    {
        for (var index = Steps.Length - 1; index >= 0; index--)
        {
            if (Steps[index] is { Kind: StepKind.Open, Point: { } point } && sheet.Points.Any(one => one.Id == point && one.Feeds(circuit)))
            {
                return index;
            }
        }

        return -1;
    }

    /// <summary>The index of the first step that fits, or -1.</summary>
    public int First(Func<Step, bool> fits)
    {
        for (var index = 0; index < Steps.Length; index++)
        {
            if (fits(Steps[index]))
            {
                return index;
            }
        }

        return -1;
    }
}

/// <summary>The ways of a sheet, the main one first.</summary>
internal static class SheetWays
{
    public static IEnumerable<WrittenWay> All(Sheet sheet) =>
    [
        new(WayId.Main, "steps", sheet.Steps),
        .. sheet.Alternatives.Select((way, index) => new WrittenWay(way.Id, $"alternatives[{index}].steps", way.Steps)),
    ];
}
