using Companion.Domain.Time;
using Companion.Simulation.Worlds;

namespace Companion.Simulation.Watched;

/// <summary>What breaks: the network, the watch room, tablets and their clocks.</summary>
internal sealed class Mishaps(Surroundings world, Tally tally)
{
    private const int MostOperations = 12;
    private static readonly TimeSpan Year = TimeSpan.FromDays(365);

    /// <summary>The names of all kinds, sorted.</summary>
    public static IReadOnlyList<string> Kinds => [.. new Mishaps(null!, null!).All(null!, new Random(0)).Select(one => one.Name).Order(StringComparer.Ordinal)];

    /// <summary>Breaks one thing.</summary>
    public void Strike(Random chance)
    {
        var all = All(world.Tablets[chance.Next(world.Tablets.Count)], chance);
        var (name, strike) = all[chance.Next(all.Length)];
        tally.Struck(name);
        strike();
    }

    private (string Name, Action Strike)[] All(LinkedTablet tablet, Random chance) =>
    [
        ("one tablet cut off", () => world.CutOff([tablet], Seconds(chance, 5, 240))),
        ("every tablet cut off", () => world.CutOff(world.Tablets, Seconds(chance, 5, 240))),
        ("bad link", () => world.Storm(Seconds(chance, 10, 90))),
        ("watch room killed", () => world.RoomGoes(Seconds(chance, 1, 4), null)),
        ("watch room down", () => world.RoomGoes(Seconds(chance, 3, 200), null)),
        ("watch room loses its power", () => world.RoomGoes(Seconds(chance, 3, 200), chance)),
        ("watch room stands still", () => world.RoomSleeps(Seconds(chance, 3, 90))),
        ("watch room's disk full", () => world.RoomAils(DiskAilment.Full, chance.Next(MostOperations), Seconds(chance, 5, 150))),
        ("watch room's disk broken", () => world.RoomAils(DiskAilment.Broken, chance.Next(MostOperations), Seconds(chance, 5, 150))),
        ("watch room's disk fails once", () => world.RoomAils(DiskAilment.OneError, chance.Next(MostOperations), Seconds(chance, 5, 150))),
        ("watch room's clock set", () => world.SetRoomClock(AnyClock(chance))),
        ("tablet killed", () => world.TabletGoes(tablet, Seconds(chance, 1, 200), null, TimeSpan.Zero)),
        ("tablet loses its power", () => world.TabletGoes(tablet, Seconds(chance, 5, 300), chance, AnyClock(chance))),
        ("tablet's store put back", () => world.TabletPutBack(tablet, Seconds(chance, 1, 200))),
        ("tablet asleep", () => world.TabletSleeps(tablet, Seconds(chance, 5, 300))),
        ("tablet's clock set", () => tablet.Inner.Clock.Time.StepWall(AnyClock(chance))),
    ];

    private static Ticks Seconds(Random chance, int least, int most) => Ticks.OfMilliseconds(chance.Next(least * 1000, most * 1000));

    /// <summary>Right, some seconds, some hours or a year off.</summary>
    private static TimeSpan AnyClock(Random chance) => chance.Next(5) switch
    {
        0 => TimeSpan.Zero,
        1 => TimeSpan.FromSeconds(chance.Next(-7200, 7200)),
        2 => TimeSpan.FromMilliseconds(chance.Next(-200_000, 200_000)),
        3 => Year,
        _ => -Year,
    };
}
