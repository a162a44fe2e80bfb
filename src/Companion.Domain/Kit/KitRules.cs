using System.Collections.Immutable;
using Companion.Domain.Electrical;
using Companion.Domain.Sheets;

namespace Companion.Domain.Kit;

/// <summary>Whether a piece of equipment may be used on a vehicle (I4), and what equipment a job demands.</summary>
public static class KitRules
{
    /// <summary>The kinds that every job demands.</summary>
    public static readonly ImmutableArray<KitKind> Required =
    [
        KitKind.Gloves, KitKind.Protectors, KitKind.Footwear, KitKind.FaceProtection,
        KitKind.Tester, KitKind.ProvingSource, KitKind.Tools, KitKind.LocksAndTags, KitKind.Barrier, KitKind.RescueHook, KitKind.FirstAid,
    ];

    /// <summary>True for what a person wears against the voltage.</summary>
    public static bool IsWorn(KitKind kind) => kind is KitKind.Gloves or KitKind.Protectors or KitKind.Footwear or KitKind.FaceProtection;

    /// <summary>The demanded kinds of which the kit holds nothing.</summary>
    public static ImmutableArray<KitKind> Missing(IEnumerable<KitItem> kit)
    {
        var held = kit.Select(item => item.Kind).ToHashSet();
        return [.. Required.Where(kind => !held.Contains(kind))];
    }

    /// <summary>Null when the item may be used on this vehicle today; otherwise a sentence that says why not and what to do.</summary>
    /// <param name="item">The item.</param>
    /// <param name="sheet">The vehicle's sheet.</param>
    /// <param name="today">
    /// The day of the latest time ever journalled, so that a clock set back does not bring equipment back into date.
    /// </param>
    /// <param name="policy">Which rating counts at DC.</param>
    public static string? Fault(KitItem item, Sheet sheet, DateOnly today, RatingPolicy policy)
    {
        var reason = KitDates.Fault(item, today) ?? item.Kind switch
        {
            KitKind.Gloves or KitKind.Footwear or KitKind.Tools or KitKind.RescueHook => RatingFault(item, Volts.Of(sheet.HighestVolts), policy),
            KitKind.Tester => TesterFault(item, sheet),
            KitKind.ProvingSource => SourceFault(item, sheet),
            _ => null,
        };
        return reason is null ? null : $"{item.Name}: {reason}.";
    }

    /// <summary>The kinds of voltage that the sheet's pairs use.</summary>
    public static ImmutableArray<VoltageKind> KindsTested(Sheet sheet) =>
        [.. sheet.TestPlaces.SelectMany(place => place.Pairs).Select(pair => pair.Kind).Distinct().Order()];

    private static string? RatingFault(KitItem item, Volts highest, RatingPolicy policy)
    {
        if (item.MostAt(policy) is not { } most)
        {
            return $"no rating is recorded, and this vehicle holds up to {highest} volts. Take one that is marked for it";
        }

        if (highest <= most)
        {
            return null;
        }

        var marked = item.Class is { } known ? $"class {known.Name}, " : "";
        var mend = item.Class is null ? $"Take one rated {highest} volts or more"
            : GloveClass.LowestFor(highest, policy) is { } enough ? $"Take class {enough.Name} or higher"
            : "No class is rated for it, treat as live, keep away";
        return $"{marked}rated {most} volts, and this vehicle holds up to {highest} volts. {mend}";
    }

    // The highest voltage is stated as DC; an inverter cannot make an AC rms voltage above it, so the figure bounds both kinds.
    private static string? TesterFault(KitItem item, Sheet sheet)
    {
        var highest = Volts.Of(sheet.HighestVolts);
        foreach (var kind in KindsTested(sheet))
        {
            if (item.ReadsTo(kind) is not { } readsTo)
            {
                return $"it does not read {Say(kind)}, which this vehicle's dead test needs. Take one that does";
            }

            if (readsTo < highest)
            {
                return $"it reads to {readsTo} volts {Say(kind)}, and this vehicle holds up to {highest} volts. "
                    + $"Take one that reads to {highest} volts or more";
            }
        }

        return sheet.TestPlaces.Select(place => LowestFault(item, place)).FirstOrDefault(fault => fault is not null);
    }

    private static string? LowestFault(KitItem item, TestPlace place)
    {
        foreach (var kind in place.Pairs.Select(pair => pair.Kind).Distinct())
        {
            if (item.Lowest(kind) is not { } lowest)
            {
                return $"its lowest indication in {Say(kind)} is not recorded. Take one where it is known";
            }

            if (lowest > place.Limit(kind))
            {
                return $"it indicates nothing below {lowest} volts {Say(kind)}, "
                    + $"and the limit at {place.Name} is {place.Limit(kind)} volts. "
                    + $"Take one that indicates {place.Limit(kind)} volts";
            }
        }

        return null;
    }

    private static string? SourceFault(KitItem item, Sheet sheet)
    {
        var highest = Volts.Of(sheet.HighestVolts);
        foreach (var kind in KindsTested(sheet))
        {
            if (item.ProvesIn(kind) is not { } range)
            {
                return $"it gives no {Say(kind)}, which this vehicle's dead test needs. Take one that does";
            }

            if (range.ShowsFrom <= Volts.Of(0) || range.ShowsFrom > range.ShowsTo)
            {
                return $"what a good tester shows on it in {Say(kind)} is not recorded. Take one where it is known";
            }

            if (range.CoversTo < highest)
            {
                return $"it proves a tester up to {range.CoversTo} volts {Say(kind)}, and this vehicle holds up to {highest} volts. "
                    + $"Take one that covers {highest} volts";
            }
        }

        return null;
    }

    private static string Say(VoltageKind kind) => kind == VoltageKind.Dc ? "DC" : "AC";
}
