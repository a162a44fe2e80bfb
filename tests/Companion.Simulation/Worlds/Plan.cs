using System.Globalization;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Worlds;

/// <summary>Everything that a world follows from: one line replays it.</summary>
/// <param name="Seed">Seed of what happens; each step has its own chance, from this and the step's number.</param>
/// <param name="Sheet">Seed of the sheet; below zero the test van.</param>
/// <param name="Chaos">How often out of a hundred the technician does something other than the right thing.</param>
/// <param name="Faults">How often out of a hundred something breaks instead.</param>
/// <param name="Steps">How many things happen.</param>
public sealed record Plan(int Seed, int Sheet, int Chaos, int Faults, int Steps)
{
    private static readonly int[] Chaoses = [0, 0, 2, 5, 15, 40];
    private static readonly int[] FaultRates = [0, 2, 4, 8, 20];

    /// <summary>Steps that are left out, so that a failing world can be made small.</summary>
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

    /// <summary>The chance of one purpose in one step: neighbouring numbers give chances that have nothing to do with each other (SplitMix64's mixing).</summary>
    public Random Chance(int step, int purpose)
    {
        var mixed = unchecked((((ulong)(uint)Seed << 32) | ((uint)step << 3) | (uint)purpose) * 0x9E3779B97F4A7C15UL);
        mixed = unchecked((mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9UL);
        mixed = unchecked((mixed ^ (mixed >> 27)) * 0x94D049BB133111EBUL);
        return new Random(unchecked((int)(mixed ^ (mixed >> 31))));
    }

    /// <summary>"world 7 -1 8 5 90" and, when steps are left out, "without 3,17".</summary>
    public override string ToString()
    {
        var line = string.Create(CultureInfo.InvariantCulture, $"world {Seed} {Sheet} {Chaos} {Faults} {Steps}");
        return Skipped.Count == 0 ? line : $"{line} without {string.Join(',', Skipped.Order())}";
    }

    /// <summary>Reads that line again; throws <see cref="FormatException"/> on any other.</summary>
    public static Plan Parse(string line)
    {
        var words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (words.Length is not (6 or 8) || words[0] != "world" || (words.Length == 8 && words[6] != "without"))
        {
            throw new FormatException($"\"{line}\" is no world. One looks like: world 7 -1 8 5 90, or: world 7 -1 8 5 90 without 3,17");
        }

        var numbers = words[1..6].Select(word => int.Parse(word, CultureInfo.InvariantCulture)).ToArray();
        return new Plan(numbers[0], numbers[1], numbers[2], numbers[3], numbers[4])
        {
            Skipped = words.Length == 6 ? new HashSet<int>() : words[7].Split(',').Select(word => int.Parse(word, CultureInfo.InvariantCulture)).ToHashSet(),
        };
    }
}
