namespace Companion.Benchmarks;

/// <summary>Word error rate after NIST: substitutions, deletions and insertions of the cheapest alignment over the words said. Static and pure.</summary>
public static class WordErrorRate
{
    /// <summary>Errors of the cheapest alignment, and the words said.</summary>
    public static (int Errors, int Words) Count(string said, string heard)
    {
        var reference = said.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        var hypothesis = heard.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        var costs = Enumerable.Range(0, hypothesis.Length + 1).ToArray();
        for (var row = 1; row <= reference.Length; row++)
        {
            var diagonal = costs[0];
            costs[0] = row;
            for (var column = 1; column <= hypothesis.Length; column++)
            {
                var substituted = diagonal + (reference[row - 1] == hypothesis[column - 1] ? 0 : 1);
                diagonal = costs[column];
                costs[column] = Math.Min(substituted, Math.Min(costs[column], costs[column - 1]) + 1);
            }
        }

        return (costs[^1], reference.Length);
    }

    /// <summary>(S + D + I) / N.</summary>
    /// <exception cref="DivideByZeroException">Nothing was said.</exception>
    public static double Of(int substitutions, int deletions, int insertions, int words) =>
        words == 0 ? throw new DivideByZeroException("Nothing was said.") : (double)(substitutions + deletions + insertions) / words;
}
