using Companion.Simulation.Worlds;

namespace Companion.Simulation.Running;

/// <summary>Makes a failing world small: cuts its end off, then leaves out ever smaller groups of steps while it still breaks the same invariant.</summary>
internal static class Shrinker
{
    /// <summary>Worlds lived at most for one shrinking.</summary>
    private const int MostTries = 60;

    /// <summary>The smallest failing world that was found, and what it breaks.</summary>
    public static Outcome Shrink(Outcome failing)
    {
        var best = Runner.Live(failing.Plan.With(failing.Step + 1, failing.Plan.Skipped), new Tally());
        if (!Same(best, failing))
        {
            return failing;
        }

        var tries = 0;
        for (var size = Math.Max(1, best.Plan.Steps / 2); size >= 1; size /= 2)
        {
            for (var from = 0; from < best.Plan.Steps - 1 && tries < MostTries; from += size)
            {
                var without = best.Plan.Skipped.Union(Enumerable.Range(from, Math.Min(size, best.Plan.Steps - 1 - from))).ToHashSet();
                if (without.Count == best.Plan.Skipped.Count)
                {
                    continue;
                }

                tries++;
                var smaller = Runner.Live(best.Plan.With(best.Plan.Steps, without), new Tally());
                best = Same(smaller, failing) ? smaller : best;
            }
        }

        return best;
    }

    /// <summary>The same invariant, by its number.</summary>
    private static bool Same(Outcome one, Outcome other) => one.Violation is { } violation && Number(violation) == Number(other.Violation!);

    private static string Number(string violation) => violation.Split(':')[0];
}
