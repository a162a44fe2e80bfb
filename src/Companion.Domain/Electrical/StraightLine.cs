namespace Companion.Domain.Electrical;

/// <summary>A straight line through points by least squares. Formulas: ordinary least squares, from memory, checked against MathNet.Numerics.</summary>
/// <param name="Count">How many points.</param>
/// <param name="MeanAt">The mean place.</param>
/// <param name="MeanValue">The mean value, which the line has there.</param>
/// <param name="Spread">Sum of the squared distances from the mean place.</param>
/// <param name="Slope">The rise for one unit.</param>
/// <param name="StandardError">Standard error of the slope with n - 2 degrees of freedom; null for two points, which always lie on a line.</param>
public sealed record StraightLine(int Count, double MeanAt, double MeanValue, double Spread, double Slope, double? StandardError)
{
    /// <summary>Half the slope's interval at 95 %; null for two points.</summary>
    public double? SlopeMargin => StandardError is { } error ? StudentT.TwoSided95(Count - 2) * error : null;

    /// <summary>The line; null for fewer than two points or when all lie at one place.</summary>
    public static StraightLine? Through(IReadOnlyList<(double At, double Value)> points)
    {
        if (points.Count < 2)
        {
            return null;
        }

        var (at, value) = (points.Average(point => point.At), points.Average(point => point.Value));
        var spread = points.Sum(point => Square(point.At - at));
        if (spread == 0)
        {
            return null;
        }

        var slope = points.Sum(point => (point.At - at) * (point.Value - value)) / spread;
        var residual = points.Sum(point => Square(point.Value - value - (slope * (point.At - at))));
        return new StraightLine(points.Count, at, value, spread, slope, points.Count == 2 ? null : Math.Sqrt(residual / (points.Count - 2) / spread));
    }

    private static double Square(double value) => value * value;
}
