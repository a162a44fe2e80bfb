using Companion.Domain.Sheets;

namespace Companion.Domain.Arrival;

/// <summary>What an arrival list must fulfil beyond its form: every concern is covered, and a pack that may burn always leads to the stand-off.</summary>
public static class ArrivalRules
{
    private static readonly Concern[] StandsOff = [Concern.Fire, Concern.Pack, Concern.Water];

    /// <summary>All faults; empty when the list may be used.</summary>
    public static IEnumerable<SheetFault> Faults(ArrivalList list)
    {
        if (list.StandOffCentimetres < ArrivalList.LeastStandOffCentimetres)
        {
            yield return new("standoffcentimetres", $"The stand-off is {ArrivalList.LeastStandOffCentimetres} centimetres (50 feet) or more. Give a longer one.");
        }

        var seen = new HashSet<ArrivalItemId>();
        foreach (var (index, item) in list.Items.Index())
        {
            if (!seen.Add(item.Id))
            {
                yield return new($"items[{index}].id", $"There are two items with the id '{item.Id}'. Give one of them another id.");
            }

            if (StandsOff.Contains(item.Concern) && item.Leads != Leads.StandOff)
            {
                yield return new($"items[{index}].leads", $"A pack that may burn is never isolated: '{item.Id}' must lead to standoff.");
            }

            if (item.Leads == Leads.Remedy && string.IsNullOrWhiteSpace(item.Then))
            {
                yield return new($"items[{index}].then", $"'{item.Id}' must say what mends it. Add then.");
            }
        }

        foreach (var concern in Enum.GetValues<Concern>().Where(concern => concern != Concern.Other && list.Items.All(item => item.Concern != concern)))
        {
            yield return new("items", $"No item covers {concern.ToString().ToLowerInvariant()}. Add one.");
        }
    }
}
