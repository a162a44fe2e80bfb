using System.Collections.Immutable;
using Companion.Domain;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;

namespace Companion.TestKit;

/// <summary>Invented sheets for tests: never for a vehicle.</summary>
public static class DemoSheets
{
    /// <summary>
    /// Two packs with separate plugs and circuits, a control-unit wait before the plugs may be pulled, and another way for the front plug.
    /// </summary>
    public static Sheet Van(int controlSeconds = 120, int frontSeconds = 300, int rearSeconds = 600) => new()
    {
        Id = "test-van",
        Number = 7,
        Edition = 2,
        Vehicle = "Test van",
        Marking = "TV 800 on the left door pillar",
        Source = new SheetSource("Test method", "2", new DateOnly(2027, 6, 30)),
        Approver = "Test approver",
        HighestVolts = 800,
        RetestMinutes = 30,
        FloorVolts = Volts.Of(2),
        StaysLive = "both packs and the pack side of both plugs",
        Circuits = [new(new("control"), "control units"), new(new("front"), "front link"), new(new("rear"), "rear link")],
        Points =
        [
            new(new("lowvolt"), "twelve volt battery", PointKind.LowVolt, [], true),
            new(new("frontplug"), "front plug", PointKind.Plug, [new("front")], true),
            new(new("frontloop"), "front cut loop", PointKind.Loop, [new("front")], false),
            new(new("rearplug"), "rear plug", PointKind.Plug, [new("rear")], true),
        ],
        Waits =
        [
            new(new("controlwait"), "control units", new("control"), controlSeconds),
            new(new("frontwait"), "front link", new("front"), frontSeconds),
            new(new("rearwait"), "rear link", new("rear"), rearSeconds),
        ],
        TestPlaces = [Place("frontlink", "front inverter", "front"), Place("rearlink", "rear inverter", "rear")],
        Disturbances = [new(Disturbance.ChargerConnected, [new("rear")], [new("rearplug")])],
        Steps =
        [
            Open("openlowvolt", "lowvolt"), Lock("locklowvolt", "lowvolt"), Waiting("waitcontrol", "controlwait"),
            Open("openfront", "frontplug"), Lock("lockfront", "frontplug"),
            Open("openrear", "rearplug"), Lock("lockrear", "rearplug"),
            Waiting("waitfront", "frontwait"), Test("testfront", "frontlink"),
            Waiting("waitrear", "rearwait"), Test("testrear", "rearlink"),
            Plain("cover", StepKind.Cover), Plain("clear", StepKind.Clear),
        ],
        Alternatives =
        [
            new(new("loop"), "by the front cut loop", [new("openfront")],
            [
                Open("loopopenlowvolt", "lowvolt"), Lock("looplocklowvolt", "lowvolt"), Waiting("loopwaitcontrol", "controlwait"),
                Open("loopopenfront", "frontloop"), Open("loopopenrear", "rearplug"), Lock("looplockrear", "rearplug"),
                Waiting("loopwaitfront", "frontwait"), Test("looptestfront", "frontlink"),
                Waiting("loopwaitrear", "rearwait"), Test("looptestrear", "rearlink"),
                Plain("loopcover", StepKind.Cover), Plain("loopclear", StepKind.Clear),
            ]),
        ],
    };

    /// <summary>The same van as a mild hybrid: by its sheet no voltage class B (ISO 6469-3: over 60 V DC).</summary>
    public static Sheet Mild()
    {
        var van = Van();
        return van with
        {
            Vehicle = "Test mild hybrid",
            HighestVolts = 54,
            TestPlaces = [.. van.TestPlaces.Select(place => place with { LimitDc = Volts.Of(12), LimitAc = Volts.Of(12) })],
        };
    }

    private static TestPlace Place(string id, string name, string circuit) => new(
        new(id), name, [new(circuit), new("control")], [],
        [
            new(new("rails"), "positive to negative", VoltageKind.Dc, PairRole.RailToRail),
            new(new("positive"), "positive to chassis", VoltageKind.Dc, PairRole.PositiveToChassis),
            new(new("negative"), "negative to chassis", VoltageKind.Dc, PairRole.NegativeToChassis),
        ],
        Volts.Of(60), Volts.Of(30), 300);

    private static Step Open(string id, string point) =>
        new() { Id = new(id), Kind = StepKind.Open, Say = $"Open {point}.", Point = new(point) };

    private static Step Lock(string id, string point) =>
        new() { Id = new(id), Kind = StepKind.Lock, Say = $"Lock {point}.", Point = new(point) };

    private static Step Waiting(string id, string wait) =>
        new() { Id = new(id), Kind = StepKind.Wait, Say = $"Wait for {wait}.", Wait = new(wait) };

    private static Step Test(string id, string place) =>
        new() { Id = new(id), Kind = StepKind.Test, Say = $"Test at {place}.", TestPlace = new(place), Exposes = true };

    private static Step Plain(string id, StepKind kind) => new() { Id = new(id), Kind = kind, Say = $"{kind}." };
}
