using System.Globalization;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Worlds;

/// <summary>Everything that a world follows from: one line replays it.</summary>
/// <param name="Seed">Seed of what happens; each step has its own chance, from this and the step's number.</param>
/// <param name="Sheet">Seed of the sheet; below zero the test van.</param>
/// <param name="Chaos">How often out of a hundred the technician does something other than the right thing.</param>
/// <param name="Faults">How often out of a hundred something breaks instead.</param>
/// <param name="Steps">How many things happen.</param>
public sealed record Plan(int Seed, int Sheet, int Chaos, int Faults, int Steps) : IPlan
{
    private static readonly int[] Chaoses = [0, 0, 2, 5, 15, 40];
    private static readonly int[] FaultRates = [0, 2, 4, 8, 20];

    /// <inheritdoc/>
    public IReadOnlySet<int> Skipped { get; init; } = new HashSet<int>();

    /// <summary>The world of a seed.</summary>
    public static Plan Of(int seed, int mostSteps)
    {
        var random = new Plan(seed, 0, 0, 0, 0).Chance(-2, 0);
        return new Plan(
            seed,
            random.Next(5) switch { 0 => -1, 1 => random.Next(1_000_000), _ => Shortest(random) },
            Chaoses[random.Next(Chaoses.Length)],
            FaultRates[random.Next(FaultRates.Length)],
            random.Next(mostSteps / 4, mostSteps + 1));
    }

    /// <summary>Of some sheets the one with the fewest steps: a short world comes to the end of such a job, where most can go wrong.</summary>
    private static int Shortest(Random random) => Enumerable.Range(0, 12).Select(_ => random.Next(1_000_000))
        .MinBy(seed => RandomSheet.Of(seed) is var sheet ? sheet.Steps.Length + sheet.TestPlaces.Sum(place => place.Pairs.Length) : 0);

    /// <inheritdoc/>
    IPlan IPlan.With(int steps, IReadOnlySet<int> skipped) => this with { Steps = steps, Skipped = skipped };

    /// <inheritdoc/>
    string IPlan.Live(Tally tally) => new World(this).Live(tally);

    /// <summary>The chance of one purpose in one step.</summary>
    public Random Chance(int step, int purpose) => PlanLine.Chance(Seed, step, purpose);

    /// <summary>"world 7 -1 8 5 90" and, when steps are left out, "without 3,17".</summary>
    public override string ToString() => PlanLine.Write(string.Create(CultureInfo.InvariantCulture, $"world {Seed} {Sheet} {Chaos} {Faults} {Steps}"), Skipped);

    /// <summary>Reads that line again; throws <see cref="FormatException"/> on any other.</summary>
    public static Plan Parse(string line)
    {
        var (numbers, skipped) = PlanLine.Read(line, "world");
        return new Plan(numbers[0], numbers[1], numbers[2], numbers[3], numbers[4]) { Skipped = skipped };
    }
}
