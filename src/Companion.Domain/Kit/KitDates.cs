using System.Globalization;

namespace Companion.Domain.Kit;

/// <summary>
/// How long equipment stays in date. Gloves: tested electrically before first issue and every 6 months; tested but never issued, the test
/// holds for 12 months (29 CFR 1910.137 Table I-5). Months are calendar months; a day that the month lacks becomes its last day.
/// </summary>
public static class KitDates
{
    /// <summary>Months between tests of gloves in use.</summary>
    public const int InUseMonths = 6;

    /// <summary>Months for which a test holds at most, and for which it holds while the gloves were never issued.</summary>
    public const int UnissuedMonths = 12;

    /// <summary>No job can lie before this day; a clock that says so was never set.</summary>
    public static readonly DateOnly EarliestClock = new(2026, 1, 1);

    /// <summary>
    /// The last day gloves may be used by their test, or null when no test is known. In use, the 6 months run from the test, or from the
    /// first issue when that came later; no test holds longer than 12 months.
    /// </summary>
    public static DateOnly? LastDay(DateOnly? tested, DateOnly? firstIssue)
    {
        if (tested is not { } test)
        {
            return null;
        }

        var longest = test.AddMonths(UnissuedMonths);
        if (firstIssue is not { } issue)
        {
            return longest;
        }

        var inUse = (issue > test ? issue : test).AddMonths(InUseMonths);
        return issue > longest || inUse > longest ? longest : inUse;
    }

    /// <summary>Why the item's dates forbid its use today, or null.</summary>
    internal static string? Fault(KitItem item, DateOnly today)
    {
        if (today < EarliestClock)
        {
            return "the tablet's date is not set, so it counts as out of date. Set the tablet's clock";
        }

        if ((item.Tested > today) || (item.FirstIssue > today))
        {
            return "its test or issue date lies in the future. Check the label and the tablet's clock";
        }

        return item.Due < today ? $"its label ran out on {Say(item.Due.Value)}. Take one that is in date"
            : item.Kind == KitKind.Gloves ? GloveFault(item, today)
            : item.Kind is KitKind.Tester or KitKind.ProvingSource && item.Due is null
                ? "no due date is recorded, so it counts as out of date. Note the date on its label"
            : null;
    }

    private static string? GloveFault(KitItem item, DateOnly today)
    {
        if (LastDay(item.Tested, item.FirstIssue) is not { } last)
        {
            return "no test date is recorded, so they count as out of date. Take a tested pair";
        }

        if (today <= last)
        {
            return null;
        }

        var rule = item.FirstIssue is null
            ? "before first use a test holds for twelve months"
            : last == item.Tested!.Value.AddMonths(UnissuedMonths)
                ? "no test holds longer than twelve months"
            : "in use they are tested every six months";
        return $"their test of {Say(item.Tested!.Value)} held until {Say(last)}, {rule}. Take a pair that is in date";
    }

    private static string Say(DateOnly day) => day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);
}
