using Companion.Domain.Electrical;

namespace Companion.Domain.Sheets;

/// <summary>Limits, pairs and window of the test places.</summary>
internal static class TestPlaceRules
{
    private static readonly PairRole[] RailRoles = [PairRole.RailToRail, PairRole.PositiveToChassis, PairRole.NegativeToChassis];

    public static IEnumerable<SheetFault> Faults(Sheet sheet) =>
        sheet.TestPlaces.SelectMany((place, index) => Place(sheet, place, $"testplaces[{index}]"));

    private static IEnumerable<SheetFault> Place(Sheet sheet, TestPlace place, string path) =>
        [.. Limits(sheet, place, path), .. Pairs(place, path), .. Floor(sheet, place)];

    private static IEnumerable<SheetFault> Limits(Sheet sheet, TestPlace place, string path)
    {
        foreach (var kind in new[] { VoltageKind.Dc, VoltageKind.Ac })
        {
            var ceiling = VoltageLimits.Ceiling(kind);
            var name = kind == VoltageKind.Dc ? "limitdc" : "limitac";
            if (place.Limit(kind) > ceiling)
            {
                yield return new($"{path}.{name}", $"A limit of {place.Limit(kind)} volts is above the ceiling of {ceiling} volts. "
                    + $"Write the maker's limit, at most \"{ceiling}\".");
            }
            else if (place.Limit(kind) <= Volts.Of(0))
            {
                yield return new(
                    $"{path}.{name}",
                    "No tester can show that a limit of zero is kept. Write the maker's limit in volts, over zero.");
            }
            else if (place.Limit(kind) >= Volts.Of(sheet.HighestVolts))
            {
                yield return new(
                    $"{path}.{name}",
                    $"A limit of {place.Limit(kind)} volts is not below the vehicle's highest voltage of {sheet.HighestVolts} volts, "
                    + "so that a live vehicle would pass. Write the maker's limit, or mend highestvolts.");
            }
        }

        if (place.WindowSeconds < 1)
        {
            yield return new(
                $"{path}.windowseconds",
                "The window from proving the tester to the claim must be over zero. Give whole seconds.");
        }
    }

    private static IEnumerable<SheetFault> Pairs(TestPlace place, string path)
    {
        if (place.Pairs.IsDefaultOrEmpty)
        {
            yield return new($"{path}.pairs", $"Test place '{place.Id}' has no pair. Add the pairs that the maker names.");
            yield break;
        }

        var rails = place.Pairs.Where(pair => RailRoles.Contains(pair.Role)).ToList();
        if (rails.Count == 0)
        {
            yield break;
        }

        foreach (var role in RailRoles)
        {
            var count = rails.Count(pair => pair.Role == role);
            if (count != 1)
            {
                yield return new(
                    $"{path}.pairs",
                    $"Test place '{place.Id}' has {count} pairs with the role {role.ToString().ToLowerInvariant()}. "
                    + "Where rails are tested, have each of railtorail, positivetochassis and negativetochassis once.");
            }
        }

        if (rails.Select(pair => pair.Kind).Distinct().Count() > 1)
        {
            yield return new(
                $"{path}.pairs",
                $"The three rail pairs of test place '{place.Id}' mix dc and ac, so that they cannot be compared. Give them one kind.");
        }
    }

    private static IEnumerable<SheetFault> Floor(Sheet sheet, TestPlace place)
    {
        var rail = place.Pairs.FirstOrDefault(pair => pair.Role == PairRole.RailToRail);
        if (rail is not null && (sheet.FloorVolts < Volts.Of(0) || sheet.FloorVolts >= place.Limit(rail.Kind)))
        {
            yield return new("floorvolts", $"A floor of {sheet.FloorVolts} volts lets a missed contact pass at test place '{place.Id}', "
                + $"where the limit is {place.Limit(rail.Kind)} volts. Make the floor smaller than the limit.");
        }
    }
}
