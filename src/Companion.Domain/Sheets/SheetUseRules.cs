using Companion.Domain.Isolation;

namespace Companion.Domain.Sheets;

/// <summary>Nothing is listed in vain, and alternatives lead onwards only.</summary>
internal static class SheetUseRules
{
    public static IEnumerable<SheetFault> Faults(Sheet sheet) => [.. Unused(sheet), .. Alternatives(sheet), .. Disturbances(sheet)];

    private static IEnumerable<SheetFault> Unused(Sheet sheet)
    {
        var steps = SheetWays.All(sheet).SelectMany(way => way.Steps).ToList();
        for (var index = 0; index < sheet.Points.Length; index++)
        {
            if (!steps.Any(step => step.Kind == StepKind.Open && step.Point == sheet.Points[index].Id))
            {
                yield return new(
                    $"points[{index}]",
                    $"Point '{sheet.Points[index].Id}' is opened in no way. Add an open step for it, or take the point out.");
            }
        }

        for (var index = 0; index < sheet.TestPlaces.Length; index++)
        {
            if (!steps.Any(step => step.TestPlace == sheet.TestPlaces[index].Id))
            {
                yield return new(
                    $"testplaces[{index}]",
                    $"Test place '{sheet.TestPlaces[index].Id}' is tested in no way. Add a test step for it, or take the place out.");
            }
        }

        for (var index = 0; index < sheet.Circuits.Length; index++)
        {
            var circuit = sheet.Circuits[index].Id;
            if (!sheet.Waits.Any(wait => wait.Circuit == circuit))
            {
                yield return new(
                    $"circuits[{index}]",
                    $"Circuit '{circuit}' has no wait. Add a wait with the maker's time, or take the circuit out.");
            }
        }
    }

    private static IEnumerable<SheetFault> Alternatives(Sheet sheet)
    {
        var earlier = sheet.Steps.Select(step => step.Id).ToHashSet();
        var leading = new HashSet<StepId>();
        for (var index = 0; index < sheet.Alternatives.Length; index++)
        {
            var way = sheet.Alternatives[index];
            var path = $"alternatives[{index}]";
            if (way.Id == WayId.Main)
            {
                yield return new($"{path}.id", "The id 'main' belongs to the sheet's own steps. Give the alternative another id.");
            }

            if (way.For.IsDefaultOrEmpty)
            {
                yield return new($"{path}.for", $"Nothing leads to alternative '{way.Id}'. Name the steps for which it stands in.");
                continue;
            }

            for (var item = 0; item < way.For.Length; item++)
            {
                if (!earlier.Contains(way.For[item]))
                {
                    yield return new(
                        $"{path}.for[{item}]",
                        $"'{way.For[item]}' is no step of an earlier way, so that the way could lead back to itself. "
                        + "Name a step of the main way or of an alternative further up.");
                }
                else if (!leading.Add(way.For[item]))
                {
                    yield return new(
                        $"{path}.for[{item}]",
                        $"Step '{way.For[item]}' already leads to another alternative. Name it in one of them only.");
                }
            }

            earlier.UnionWith(way.Steps.Select(step => step.Id));
        }
    }

    private static IEnumerable<SheetFault> Disturbances(Sheet sheet)
    {
        var seen = new HashSet<Disturbance>();
        for (var index = 0; index < sheet.Disturbances.Length; index++)
        {
            var what = sheet.Disturbances[index].What;
            var name = what.ToString().ToLowerInvariant();
            if (what == Disturbance.Unwatched)
            {
                yield return new(
                    $"disturbances[{index}].what",
                    "What happened unwatched always voids everything (I2). Take this disturbance out.");
            }
            else if (!seen.Add(what))
            {
                yield return new($"disturbances[{index}].what", $"The disturbance '{name}' stands here twice. Put both into one.");
            }
        }
    }
}
