namespace Companion.Benchmarks;

/// <summary>
/// The upper end of the one-sided 95 % interval of a share (Clopper and Pearson): with none seen in n it is about 3/n. Static and pure.
/// </summary>
public static class UpperBound
{
    private const double Confidence = 0.95;

    /// <summary>For so many seen in so many trials; 1 when there were no trials.</summary>
    public static double Of(int seen, int trials)
    {
        if (trials == 0 || seen >= trials)
        {
            return 1;
        }

        double low = 0, high = 1;
        for (var n = 0; n < 60; n++)
        {
            var middle = (low + high) / 2;
            (low, high) = AtMost(seen, trials, middle) > 1 - Confidence ? (middle, high) : (low, middle);
        }

        return high;
    }

    // Chance of at most so many, term by term from the chance of none.
    private static double AtMost(int seen, int trials, double share)
    {
        var term = Math.Exp(trials * Math.Log(1 - share));
        var sum = term;
        for (var n = 1; n <= seen; n++)
        {
            term *= (trials - n + 1.0) / n * share / (1 - share);
            sum += term;
        }

        return sum;
    }
}
