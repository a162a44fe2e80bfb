using System.Collections.Immutable;

namespace Companion.Domain.Electrical;

/// <summary>
/// Student's t, two-sided, 95 %: how many standard errors an interval reaches to either side. Source: from memory; every value is checked
/// against MathNet.Numerics by a test.
/// </summary>
public static class StudentT
{
    private static readonly ImmutableArray<double> Quantiles =
    [
        12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228,
        2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086,
        2.080, 2.074, 2.069, 2.064, 2.060, 2.056, 2.052, 2.048, 2.045, 2.042,
    ];

    /// <summary>
    /// The quantile. Beyond the table its last value stands, not the 1.960 of the limit: an interval may be drawn too wide, never too narrow.
    /// </summary>
    /// <param name="degreesOfFreedom">1 or more.</param>
    public static double TwoSided95(int degreesOfFreedom)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(degreesOfFreedom, 1);
        return Quantiles[Math.Min(degreesOfFreedom, Quantiles.Length) - 1];
    }
}
