using CsCheck;
using Companion.Domain.Asking;
using Companion.Domain.Time;
using Companion.TestKit;
using Companion.TestKit.Judging;
using Companion.TestKit.Walking;

namespace Companion.Domain.Tests.Properties;

/// <summary>Random jobs that are watched over, through sleep, restarts, clock changes and everything that goes wrong (I10).</summary>
public sealed class CheckInProperties
{
    private static World Live(Walk walk)
    {
        var world = new World(walk.Sheet < 0 ? DemoSheets.Van() : RandomSheet.Of(walk.Sheet)) { Watch = DemoWatch.ByPhase() };
        world.Open(false, walk.Seed % 3 == 0 ? null : "Marit");
        var random = new Random(walk.Seed);
        var walker = new Walker(world, walk.Chaos, random);
        for (var step = 0; step < walk.Steps && world.Job is not { Ended: true }; step++)
        {
            if (random.Next(12) == 0)
            {
                world.Do(world.Answer(random.Next(4) == 0 ? Phrase.StatusAllRight : Phrase.AllRight, null) with
                {
                    By = (By)random.Next(3), Held = Ticks.OfMilliseconds(random.Next(2000)),
                });
            }
            else
            {
                walker.Step(random);
            }
        }

        return world;
    }

    [Fact]
    public void A_deadline_is_never_missed_never_extended_and_raised_once() =>
        Walks.Each(500, walk => Hold(Live(walk)));

    private static void Hold(World world)
    {
        var ledger = new CheckInLedger();
        foreach (var turn in world.Turns)
        {
            ledger.Take(turn, world.Log.Skip(turn.LogBefore).Take(turn.Decision.Events.Length));
        }
    }
}
