namespace Companion.Domain.Electrical;

/// <summary>
/// The straight line through ln|V| against time by least squares: what readings of one pair say about a capacitor that discharges through a
/// resistor. It explains and warns; it never stands in for a wait or a measurement. Units: volts, seconds, ohms, farads, joules; times count
/// from the last reading. Fieller's interval: from memory, checked against MathNet.Numerics.
/// </summary>
public sealed record DischargeFit
{
    /// <summary>Two readings always lie on a line: only the third says how far to trust it.</summary>
    public const int LeastReadings = 3;

    /// <summary>Stored energy that counts as low: 0.2 J (ISO 6469-4 5.2.3).</summary>
    public const double LowEnergyJoules = 0.2;

    private readonly double _meanSeconds;
    private readonly double _meanLogarithm;
    private readonly double _spread;

    private DischargeFit(double lastVolts, StraightLine line)
    {
        (LastVolts, Count, Slope, StandardError) = (lastVolts, line.Count, line.Slope, line.StandardError!.Value);
        (_meanSeconds, _meanLogarithm, _spread) = (line.MeanAt, line.MeanValue, line.Spread);
    }

    /// <summary>The last reading, in volts.</summary>
    public double LastVolts { get; }

    /// <summary>How many readings.</summary>
    public int Count { get; }

    /// <summary>Change of ln V in a second; below zero while the voltage falls.</summary>
    public double Slope { get; }

    /// <summary>Standard error of the slope, with n - 2 degrees of freedom.</summary>
    public double StandardError { get; }

    /// <summary>How far the slope's interval at 95 % reaches to either side.</summary>
    public double SlopeMargin => StudentT.TwoSided95(Count - 2) * StandardError;

    /// <summary>The time constant in seconds; infinite where the voltage does not fall.</summary>
    public Estimate TimeConstant => new(Falling(Slope), Falling(Slope - SlopeMargin), Falling(Slope + SlopeMargin));

    /// <summary>Fits readings of one pair.</summary>
    /// <param name="readings">At least <see cref="LeastReadings"/>, later and later, all over zero volts.</param>
    /// <exception cref="ArgumentException">There are too few, time stands or goes back, or a figure cannot be a reading.</exception>
    public static DischargeFit Of(IReadOnlyList<DischargePoint> readings)
    {
        Check(readings);
        var last = readings[^1];
        var line = StraightLine.Through([.. readings.Select(reading => (reading.Seconds - last.Seconds, Math.Log(reading.Volts)))])!;
        return new DischargeFit(last.Volts, line);
    }

    /// <summary>
    /// Seconds from the last reading until the line is at a limit, never below zero. The interval is Fieller's: where the band around the
    /// line meets the limit. Its upper end is infinite when the slope's interval includes zero.
    /// </summary>
    /// <param name="limitVolts">The limit, over zero.</param>
    public Estimate SecondsTo(double limitVolts)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(limitVolts);
        var above = _meanLogarithm - Math.Log(limitVolts);
        var (rate, atMean) = (Square(SlopeMargin), Square(SlopeMargin) * _spread / Count);
        var open = Square(Slope) - rate;
        var root = Math.Sqrt(Math.Max(0, (atMean * open) + (rate * Square(above))));
        var now = VoltsAt(0);
        return new Estimate(
            now.Value <= limitVolts ? 0 : Slope < 0 ? FromLast(-above / Slope) : double.PositiveInfinity,
            now.Lower <= limitVolts ? 0 : Earliest(above, atMean, root),
            Slope < 0 && open > 0 ? FromLast(((-above * Slope) + root) / open) : double.PositiveInfinity);
    }

    /// <summary>The line and the band around it, in volts.</summary>
    /// <param name="seconds">From the last reading; below zero for earlier.</param>
    public Estimate VoltsAt(double seconds)
    {
        var offset = seconds - _meanSeconds;
        var line = _meanLogarithm + (Slope * offset);
        var margin = SlopeMargin * Math.Sqrt((_spread / Count) + Square(offset));
        return new Estimate(Math.Exp(line), Math.Exp(line - margin), Math.Exp(line + margin));
    }

    /// <summary>The resistance that discharges, in ohms: R = tau / C.</summary>
    /// <param name="farads">Over zero.</param>
    public Estimate Ohms(double farads)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(farads);
        return TimeConstant.Over(farads);
    }

    private static double Falling(double slope) => slope < 0 ? -1 / slope : double.PositiveInfinity;

    private static double Square(double value) => value * value;

    private static void Check(IReadOnlyList<DischargePoint> readings)
    {
        if (readings.Count < LeastReadings)
        {
            throw new ArgumentException($"A fit needs {LeastReadings} readings and has {readings.Count}.", nameof(readings));
        }

        for (var index = 0; index < readings.Count; index++)
        {
            var (seconds, volts) = readings[index];
            if (!double.IsFinite(seconds) || !(volts > 0 && volts <= Volts.MostVolts))
            {
                throw new ArgumentException($"Reading {index + 1} is none: {volts} V at {seconds} s.", nameof(readings));
            }

            if (index > 0 && !(seconds > readings[index - 1].Seconds))
            {
                throw new ArgumentException($"Reading {index + 1} is not later than the one before it.", nameof(readings));
            }
        }
    }

    /// <summary>Where the lower edge of the band comes down to the limit; never where it rises.</summary>
    private double Earliest(double above, double atMean, double root)
    {
        var (over, under) = (Square(above) - atMean, root - (above * Slope));
        return above > 0 && under > 0 ? FromLast(over / under) : double.PositiveInfinity;
    }

    private double FromLast(double fromMean) => Math.Max(0, _meanSeconds + fromMean);
}
