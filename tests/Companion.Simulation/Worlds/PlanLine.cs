using System.Globalization;
using Companion.Simulation.Watched;

namespace Companion.Simulation.Worlds;

/// <summary>What the lines of all kinds of worlds have in common.</summary>
internal static class PlanLine
{
    /// <summary>The plan that a line tells; throws <see cref="FormatException"/> when it tells none.</summary>
    public static IPlan Parse(string line) =>
        line.StartsWith(WatchedPlan.Word + " ", StringComparison.Ordinal) ? WatchedPlan.Parse(line) : Plan.Parse(line);

    /// <summary>The five numbers of a line and the steps that it leaves out.</summary>
    public static (int[] Numbers, IReadOnlySet<int> Skipped) Read(string line, string word)
    {
        var words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (words.Length is not (6 or 8) || words[0] != word || (words.Length == 8 && words[6] != "without"))
        {
            throw new FormatException($"\"{line}\" is no world. One looks like: {word} 7 2 8 5 90, or: {word} 7 2 8 5 90 without 3,17");
        }

        return ([.. words[1..6].Select(Number)], words.Length == 6 ? new HashSet<int>() : words[7].Split(',').Select(Number).ToHashSet());
    }

    /// <summary>A line with the steps that are left out.</summary>
    public static string Write(string line, IReadOnlySet<int> skipped) => skipped.Count == 0 ? line : $"{line} without {string.Join(',', skipped.Order())}";

    /// <summary>The chance of one purpose in one step: neighbouring numbers give chances that have nothing to do with each other (SplitMix64's mixing).</summary>
    public static Random Chance(int seed, int step, int purpose)
    {
        var mixed = unchecked((((ulong)(uint)seed << 32) | ((uint)step << 3) | (uint)purpose) * 0x9E3779B97F4A7C15UL);
        mixed = unchecked((mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9UL);
        mixed = unchecked((mixed ^ (mixed >> 27)) * 0x94D049BB133111EBUL);
        return new Random(unchecked((int)(mixed ^ (mixed >> 31))));
    }

    private static int Number(string word) => int.Parse(word, CultureInfo.InvariantCulture);
}
