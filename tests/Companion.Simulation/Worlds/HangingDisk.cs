using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Worlds;

/// <summary>An append that never comes back: the loop must say so itself, within its patience, and a warning must sound meanwhile (I16).</summary>
internal static class HangingDisk
{
    private static readonly Ticks Between = Ticks.OfMilliseconds(250);
    private static readonly Ticks Whole = Ticks.OfMilliseconds(2500);

    /// <summary>Keeps the clocks and the pulse going until the loop gives up; in the middle somebody calls stop.</summary>
    public static void Outlast(Tablet tablet, Task drained)
    {
        var engine = tablet.Engine!;
        var said = 0;
        tablet.Ear.Listen(tablet.Ear.Now!);
        engine.Post(tablet.Ear.Hear("stop", "stop", tablet.Clock.Now()));
        var passed = Ticks.Zero;
        while (!drained.IsCompleted)
        {
            Oracle.Claim(said < Patience, "I16: a store that does not answer is not noticed");
            if (passed < Whole)
            {
                tablet.Clock.Move(time => time.Pass(Between));
                passed += Between;
            }

            engine.Pulse();
            said++;

            // The loop runs on another thread here; the pulse it has not taken yet would be the last one.
            Task.WhenAny(drained, Task.Delay(1)).GetAwaiter().GetResult();
        }

        // However soon or late the other thread saw it, the same time has passed in this world: the same seed, the same hashes.
        tablet.Clock.Move(time => time.Pass(Whole - passed));
        Oracle.Claim(!engine.Snapshot.Recording, "I16: recording is still shown although the store does not answer");
    }

    /// <summary>Turns of a busy machine that the loop may take to see a pulse.</summary>
    private const int Patience = 4000;
}
