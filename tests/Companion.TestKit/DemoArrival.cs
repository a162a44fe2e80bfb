using System.Collections.Immutable;
using Companion.Domain;
using Companion.Domain.Arrival;

namespace Companion.TestKit;

/// <summary>Invented arrival lists.</summary>
public static class DemoArrival
{
    /// <summary>A list that covers every concern, in the order of the enumeration.</summary>
    public static ArrivalList Complete() => new("demo", "112", 1600, [.. Enum.GetValues<Concern>().Where(concern => concern != Concern.Other).Select(Item)]);

    /// <summary>Four items, one for each way that a question can go and one to be done: for walks that have more to see than the arrival.</summary>
    public static ArrivalList Short() => Complete() with
    {
        Id = "short",
        Items = [Item(Concern.Traffic), Item(Concern.Fire), Item(Concern.Impact), Item(Concern.ChargingCable)],
    };

    private static ArrivalItem Item(Concern concern)
    {
        var name = concern.ToString().ToLowerInvariant();
        return concern switch
        {
            Concern.Traffic or Concern.People or Concern.Ready or Concern.Jewellery or Concern.BeforeLowVolt =>
                new(new(name), concern, name, $"See to {name}.", Leads.Act),
            Concern.Fire or Concern.Pack or Concern.Water => new(new(name), concern, name, $"Is there {name}?", Leads.StandOff),
            Concern.Enclosed or Concern.Implant => new(new(name), concern, name, $"Is there {name}?", Leads.Stop, $"Not with {name}."),
            Concern.ChargingCable or Concern.OtherSource or Concern.Rain => new(new(name), concern, name, $"Is there {name}?", Leads.Remedy, $"Take {name} away."),
            _ => new(new(name), concern, name, $"Is there {name}?", Leads.Note, $"Mind the {name}."),
        };
    }
}
