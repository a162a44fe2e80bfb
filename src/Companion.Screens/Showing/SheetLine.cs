using System.Collections.Immutable;
using System.Globalization;
using Companion.Domain.Isolation;
using Companion.Engine.Ports;

namespace Companion.Screens.Showing;

/// <summary>One sheet of the list from which it is chosen.</summary>
/// <param name="Number">Its short number in two digits, as it is said.</param>
/// <param name="Vehicle">The vehicle.</param>
/// <param name="Marking">The maker's marking that must be found on it.</param>
/// <param name="Edition">The operator's edition.</param>
/// <param name="Overdue">True when it is past its review date, and will be refused.</param>
public sealed record SheetLine(string Number, string Vehicle, string Marking, int Edition, bool Overdue)
{
    /// <summary>The sheets that may be chosen for a job: a real job sees no rehearsal sheets.</summary>
    public static ImmutableArray<SheetLine> Of(Job job, ISheetCatalogue sheets) =>
    [
        .. sheets.All()
            .Where(offered => job.Rehearsal || !offered.Sheet.RehearsalOnly)
            .OrderBy(offered => offered.Sheet.Number)
            .Select(offered => new SheetLine(
                offered.Sheet.Number.ToString("00", CultureInfo.InvariantCulture),
                offered.Sheet.Vehicle,
                offered.Sheet.Marking,
                offered.Sheet.Edition,
                offered.Sheet.Source.IsOverdue(DateOnly.FromDateTime(job.Clock.LatestWall.Date)))),
    ];
}
