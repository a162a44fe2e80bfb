using System.Collections.Immutable;
using Companion.Domain;
using Companion.Domain.Electrical;
using Companion.Domain.Kit;

namespace Companion.TestKit;

/// <summary>Invented equipment, all of it fit for the test sheets at <see cref="DemoTime.Start"/>, with two testers.</summary>
public static class DemoKit
{
    /// <summary>Name of the first tester.</summary>
    public static readonly KitId Tester = new("tester");

    /// <summary>Name of the second tester.</summary>
    public static readonly KitId SecondTester = new("tester-two");

    /// <summary>A complete kit with two testers.</summary>
    public static ImmutableArray<KitItem> Complete() =>
    [
        Item("gloves", KitKind.Gloves) with { Class = GloveClass.Find("0") },
        Item("protectors", KitKind.Protectors),
        Item("boots", KitKind.Footwear) with { RatedAc = Volts.Of(1000), RatedDc = Volts.Of(1500) },
        Item("shield", KitKind.FaceProtection),
        Item("tools", KitKind.Tools) with { RatedAc = Volts.Of(1000), RatedDc = Volts.Of(1500) },
        Item("locks", KitKind.LocksAndTags),
        Item("barrier", KitKind.Barrier),
        Item("hook", KitKind.RescueHook) with { RatedAc = Volts.Of(1000), RatedDc = Volts.Of(1500) },
        Item("aid", KitKind.FirstAid),
        TesterItem(Tester.Value),
        TesterItem(SecondTester.Value),
        Item("source", KitKind.ProvingSource) with
        {
            Proves = [new(VoltageKind.Dc, Volts.Of(220), Volts.Of(260), Volts.Of(1000)),
                new(VoltageKind.Ac, Volts.Of(220), Volts.Of(260), Volts.Of(1000))],
        },
    ];

    /// <summary>The same kit with a second tester that indicates from 3 V, the first from 6 V.</summary>
    public static ImmutableArray<KitItem> TwoTesters() =>
        [.. Complete().Select(item => item.Id == SecondTester ? item with { LowestDc = Volts.Of(3) } : item)];

    private static KitItem TesterItem(string id) => Item(id, KitKind.Tester) with
    {
        ReadsToDc = Volts.Of(1000),
        ReadsToAc = Volts.Of(1000),
        LowestDc = Volts.Of(6),
        LowestAc = Volts.Of(6),
    };

    private static KitItem Item(string id, KitKind kind) => new()
    {
        Id = new(id),
        Kind = kind,
        Name = id,
        Serial = $"{id}-1",
        Tested = new DateOnly(2026, 9, 1),
        FirstIssue = new DateOnly(2026, 9, 2),
        Due = new DateOnly(2027, 2, 28),
    };
}
