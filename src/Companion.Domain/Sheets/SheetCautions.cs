using System.Globalization;
using Companion.Domain.Electrical;

namespace Companion.Domain.Sheets;

/// <summary>What is no fault of a sheet and must be known all the same by whoever puts it into use.</summary>
public static class SheetCautions
{
    /// <summary>All cautions; empty for most sheets.</summary>
    /// <param name="sheet">A sheet without faults.</param>
    /// <param name="today">Today; null when the day does not matter yet.</param>
    public static IReadOnlyList<SheetFault> Of(Sheet sheet, DateOnly? today) => [.. Overdue(sheet.Source, today), .. NoClassB(sheet)];

    private static IEnumerable<SheetFault> Overdue(SheetSource source, DateOnly? today)
    {
        if (today is { } day && source.IsOverdue(day))
        {
            yield return new(
                "source.reviewby",
                $"The sheet was to be reviewed by {source.ReviewBy.ToString("d MMMM yyyy", CultureInfo.InvariantCulture)}, and no job takes it any more. "
                + "Compare it with the maker's present document, then raise the edition and give a new day.");
        }
    }

    // Voltage class B begins over 60 V DC: ISO 6469-3, UN R100 paragraph 2.
    private static IEnumerable<SheetFault> NoClassB(Sheet sheet)
    {
        if (!sheet.HoldsClassB)
        {
            yield return new(
                "highestvolts",
                $"By this figure the vehicle holds no voltage class B (over {VoltageLimits.CeilingDc} volts DC), and the technician is told so. "
                + "Check the figure against the maker's document once more.");
        }
    }
}
