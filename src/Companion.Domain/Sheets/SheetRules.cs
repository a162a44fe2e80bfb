using Companion.Domain.Electrical;

namespace Companion.Domain.Sheets;

/// <summary>
/// What a sheet must fulfil beyond its form, so that following it can end in proved dead and clear to work: everything named exists, every
/// circuit is opened, waited for and tested in every way, and no limit is laxer than the ceilings. A vehicle that holds no voltage class B
/// is held to the same.
/// </summary>
public static class SheetRules
{
    /// <summary>Shortest wait of a sheet that may be used on a real job (I20).</summary>
    public const int LeastRealWaitSeconds = 60;

    /// <summary>All faults, in the order of the rules; empty when the sheet may be used.</summary>
    public static IReadOnlyList<SheetFault> Faults(Sheet sheet)
    {
        var named = SheetNameRules.Faults(sheet).ToList();

        // A way is only followed when its names lead somewhere; otherwise one slip would be reported again and again.
        return named.Count > 0
            ? [.. Figures(sheet), .. named]
            :
            [
                .. Figures(sheet),
                .. TestPlaceRules.Faults(sheet),
                .. SheetUseRules.Faults(sheet),
                .. LeftPlugRules.Faults(sheet),
                .. SheetWays.All(sheet).SelectMany(way => WayRules.Faults(sheet, way)),
            ];
    }

    private static IEnumerable<SheetFault> Figures(Sheet sheet)
    {
        if (sheet.Number is < 1 or > 99)
        {
            yield return new("number", $"The number {sheet.Number} cannot be called by voice. Give the sheet a free number from 1 to 99.");
        }

        if (sheet.Edition < 1)
        {
            yield return new("edition", "Editions count from 1. Give the sheet's edition and raise it with every change.");
        }

        if (sheet.HighestVolts < 1 || Volts.Of(sheet.HighestVolts) > VoltageLimits.ClassBMostDc)
        {
            yield return new(
                "highestvolts",
                $"The highest voltage must be over zero and at most {VoltageLimits.ClassBMostDc} volts DC. "
                + "Take the figure from the maker's document.");
        }

        if (sheet.RetestMinutes < 1)
        {
            yield return new("retestminutes", "Clear to work must lapse. Give one minute or more.");
        }

        for (var index = 0; index < sheet.Waits.Length; index++)
        {
            if (WaitFault(sheet, sheet.Waits[index]) is { } message)
            {
                yield return new($"waits[{index}].seconds", message);
            }
        }
    }

    private static string? WaitFault(Sheet sheet, WaitRule wait) =>
        wait.Seconds < 1 ? "A wait takes at least one second. Give the maker's time in whole seconds."
        : wait.Seconds < LeastRealWaitSeconds && !sheet.RehearsalOnly
            ? $"A wait of {wait.Seconds} seconds is for rehearsals only. Give the maker's time of {LeastRealWaitSeconds} seconds or more, "
                + "or mark the sheet with rehearsalonly: true."
        : null;
}
