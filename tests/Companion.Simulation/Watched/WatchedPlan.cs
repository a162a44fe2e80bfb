using System.Globalization;
using Companion.Simulation.Worlds;

namespace Companion.Simulation.Watched;

/// <summary>Everything that a world of several tablets and their watch room follows from: one line replays it.</summary>
/// <param name="Seed">Seed of what happens; each step has its own chance, from this and the step's number.</param>
/// <param name="Tablets">How many tablets there are.</param>
/// <param name="Chaos">How often out of a hundred a person does something other than the usual.</param>
/// <param name="Faults">How often out of a hundred something breaks instead, and how bad the link is.</param>
/// <param name="Steps">How many things happen.</param>
public sealed record WatchedPlan(int Seed, int Tablets, int Chaos, int Faults, int Steps) : IPlan
{
    /// <summary>The first word of the line.</summary>
    public const string Word = "watched";

    /// <summary>The most tablets.</summary>
    public const int MostTablets = 9;

    private static readonly int[] Chaoses = [5, 15, 40];
    private static readonly int[] FaultRates = [0, 5, 15, 30];

    /// <inheritdoc/>
    public IReadOnlySet<int> Skipped { get; init; } = new HashSet<int>();

    /// <summary>The world of a seed.</summary>
    public static WatchedPlan Of(int seed, int mostSteps)
    {
        var random = PlanLine.Chance(seed, -2, 0);
        return new WatchedPlan(
            seed, 2 + random.Next(2), Chaoses[random.Next(Chaoses.Length)], FaultRates[random.Next(FaultRates.Length)], random.Next(mostSteps / 4, mostSteps + 1));
    }

    /// <inheritdoc/>
    IPlan IPlan.With(int steps, IReadOnlySet<int> skipped) => this with { Steps = steps, Skipped = skipped };

    /// <inheritdoc/>
    string IPlan.Live(Tally tally)
    {
        using var world = new WatchedWorld(this, tally);
        return world.Live();
    }

    /// <summary>The chance of one purpose in one step.</summary>
    public Random Chance(int step, int purpose) => PlanLine.Chance(Seed, step, purpose);

    /// <summary>"watched 7 3 15 5 40" and, when steps are left out, "without 3,17".</summary>
    public override string ToString() =>
        PlanLine.Write(string.Create(CultureInfo.InvariantCulture, $"{Word} {Seed} {Tablets} {Chaos} {Faults} {Steps}"), Skipped);

    /// <summary>Reads that line again; throws <see cref="FormatException"/> on any other.</summary>
    public static WatchedPlan Parse(string line)
    {
        var (numbers, skipped) = PlanLine.Read(line, Word);
        return numbers[1] is >= 1 and <= MostTablets
            ? new WatchedPlan(numbers[0], numbers[1], numbers[2], numbers[3], numbers[4]) { Skipped = skipped }
            : throw new FormatException($"{numbers[1]} tablets are none, or too many.");
    }
}
