using Companion.Domain.Deciding;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Simulation.Checking;
using Companion.Simulation.Disk;

namespace Companion.Simulation.Worlds;

/// <summary>What breaks: power, disk, clocks, process, devices, the link of a view.</summary>
internal sealed class Faults(World world, Tablet tablet, Memory memory)
{
    private bool _microphoneLost;

    /// <summary>The names of all kinds, sorted.</summary>
    public static IReadOnlyList<string> Kinds => [.. new Faults(null!, null!, null!).All(new Random(0)).Select(fault => fault.Name).Order(StringComparer.Ordinal)];

    /// <summary>Where faults are counted.</summary>
    public Tally Tally { get; set; } = new();

    /// <summary>Breaks one thing.</summary>
    public void Break(Random chance)
    {
        var faults = All(chance);
        var (name, strike) = faults[chance.Next(faults.Length)];
        Tally.Struck(name);
        strike();
    }

    /// <summary>Whatever ails the disk is mended.</summary>
    public void Mend()
    {
        tablet.Disk.FullFrom = null;
        tablet.Disk.CutAt = null;
        if (tablet.Disk.IsCut)
        {
            tablet.CutPower(new Random(0));
        }
    }

    private (string Name, Action Strike)[] All(Random chance) =>
    [
        ("power cut", () => CutPower(chance)),
        ("power cut at a write", () => tablet.Disk.CutAt = tablet.Disk.Operations + chance.Next(1, 12)),
        ("power cut in recovery", () => CutRecovery(chance)),
        ("process killed", () => Kill(chance)),
        ("disk full", () => tablet.Disk.FullFrom = tablet.Disk.Operations + chance.Next(1, 6)),
        ("disk hangs", HangDisk),
        ("bit flip", () => FlipBit(chance)),
        ("clock step", () => StepClock(chance)),
        ("clock drift", () => Drift(chance)),
        ("suspend", () => Suspend(chance)),
        ("loop stands still", () => Stall(chance)),
        ("microphone", LoseMicrophone),
        ("loudspeaker", LoseLoudspeaker),
        ("view lost", () => world.Do(new ViewGone("cuff"))),
        ("answer of another boot", () => Foreign(chance)),
    ];

    private void CutPower(Random chance)
    {
        tablet.CutPower(chance);
        Outage(chance);
        world.StartAgain();
    }

    private void CutRecovery(Random chance)
    {
        tablet.CutPower(chance);
        for (var cut = chance.Next(1, 3); cut > 0; cut--)
        {
            tablet.Disk.CutAt = tablet.Disk.Operations + chance.Next(1, 25);
            world.Time.Reboot();
            world.Time.Pass(Ticks.OfSeconds(20));
            if (tablet.Start())
            {
                // The cut lies behind the recovery; it comes with the next writes.
                return;
            }

            tablet.CutPower(chance);
        }

        Outage(chance);
        world.StartAgain();
    }

    private void Kill(Random chance)
    {
        tablet.Kill();
        world.Time.Pass(Ticks.OfMilliseconds(chance.Next(400_000)));
        world.StartAgain();
    }

    private void HangDisk()
    {
        tablet.Journal!.Hangs = true;
        world.Stand(Ticks.OfSeconds(11));
        world.Do(new Tick());
        world.Do(world.Answer(Domain.Asking.Phrase.SayAgain, null));
    }

    private void FlipBit(Random chance)
    {
        tablet.Kill();
        memory.MayBeDamaged = true;
        var files = tablet.Disk.Files().Where(path => tablet.Disk.Bytes(path).Length > 0).ToList();
        var file = files[chance.Next(files.Count)];
        tablet.Disk.Damage(file, bytes => bytes[chance.Next(bytes.Count)] ^= (byte)(1 << chance.Next(8)));
        world.StartAgain();
    }

    private void StepClock(Random chance)
    {
        world.Time.StepWall(TimeSpan.FromSeconds(chance.Next(-400_000_000, 400_000_000)));
        world.Do(new Tick());
    }

    private void Drift(Random chance)
    {
        for (var turn = 0; turn < 12; turn++)
        {
            world.Pass(Ticks.OfSeconds(1));
            world.Time.StepWall(TimeSpan.FromMilliseconds(chance.Next(-300, 301)));
            world.Do(new Tick());
        }
    }

    private void Suspend(Random chance)
    {
        world.Time.Sleep(Ticks.OfMilliseconds(chance.Next(2) == 0 ? chance.Next(2_000) : chance.Next(900_000)));
        world.Do(new Tick());
    }

    private void Stall(Random chance)
    {
        world.Stand(Ticks.OfMilliseconds(chance.Next(60_000)));
        world.Do(new Tick());
    }

    private void LoseMicrophone()
    {
        _microphoneLost = !_microphoneLost;
        tablet.Engine!.Post(new DeviceNotice("microphone", !_microphoneLost, "The microphone is gone. Plug it in, or use the button."));
        world.Settle();
    }

    private void LoseLoudspeaker()
    {
        tablet.Speaker.Lost = !tablet.Speaker.Lost;
        tablet.Engine!.Post(new DeviceNotice("loudspeaker", !tablet.Speaker.Lost, "The loudspeaker is gone. Plug it in, and look at the screen."));
        world.Settle();
    }

    /// <summary>An answer that was on its way when the tablet restarted.</summary>
    private void Foreign(Random chance)
    {
        var answer = world.Answer((Domain.Asking.Phrase)chance.Next(20), world.Job?.Question?.Code) with { By = Domain.Asking.By.Touch, Held = Ticks.OfSeconds(2) };
        world.Do(answer with { Began = answer.Began with { BootId = "boot-0" } });
    }

    private void Outage(Random chance)
    {
        world.Time.Reboot();
        world.Time.Pass(Ticks.OfMilliseconds(chance.Next(5_000, 900_000)));
    }
}
