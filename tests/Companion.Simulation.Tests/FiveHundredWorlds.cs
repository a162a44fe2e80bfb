using Companion.Simulation.Running;
using Companion.Simulation.Worlds;

namespace Companion.Simulation.Tests;

/// <summary>Five hundred worlds, lived once for all tests that look at them. Each writes what its journal holds into a folder.</summary>
public sealed class FiveHundredWorlds : IDisposable
{
    private const int Runs = 500;
    private const int Steps = 80;

    public FiveHundredWorlds()
    {
        Outcomes = Runner.LiveMany(1, Runs, Steps, Tally, (plan, world) => world.ExportTo(Path.Combine(Folder, $"world-{plan.Seed}.ndjson")));
    }

    /// <summary>The exports.</summary>
    public string Folder { get; } = Directory.CreateTempSubdirectory("companion-worlds-").FullName;

    internal Tally Tally { get; } = new();

    internal IReadOnlyList<Outcome> Outcomes { get; }

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}
