using Companion.Domain.Time;

namespace Companion.Domain.Electrical;

/// <summary>
/// Judges the watching readings of one pair. The meter's resolution is the sheet's floor: a smaller change is no change, and where even a
/// circuit that is just in time would not have changed by more, there is no verdict yet. Total for readings that come later and later.
/// </summary>
public static class DischargeWatch
{
    /// <summary>No verdict but "rising" is given on readings of a shorter time.</summary>
    public static readonly Ticks LeastSpan = Ticks.OfSeconds(20);

    private const double MicrofaradsInFarad = 1e6;

    /// <summary>The finding.</summary>
    /// <param name="readings">One or more, later and later.</param>
    /// <param name="bounds">What they are judged by.</param>
    /// <exception cref="ArgumentException">There is none, or time stands or goes back.</exception>
    public static DischargeFinding Judge(IReadOnlyList<TimedVolts> readings, DischargeBounds bounds)
    {
        Check(readings);
        var farads = bounds.Microfarads / MicrofaradsInFarad;
        var joules = farads is { } known ? DischargeLaw.Joules(known, InVolts(readings[^1].Volts)) : (double?)null;
        if (Rises(readings, bounds.Floor))
        {
            return new DischargeFinding(DischargeVerdict.Rising, null, null, null, joules);
        }

        if (VoltageLimits.Passes(readings[^1].Volts, bounds.Limit))
        {
            return new DischargeFinding(DischargeVerdict.UnderLimit, null, null, null, joules);
        }

        var fit = bounds.Kind == VoltageKind.Dc ? Fit(readings) : null;
        var toLimit = fit is null || bounds.Limit <= Volts.Of(0) ? (Estimate?)null : fit.SecondsTo(InVolts(bounds.Limit));
        return new DischargeFinding(VerdictOf(readings, bounds, toLimit), fit, toLimit, farads is { } c ? fit?.Ohms(c) : null, joules);
    }

    private static DischargeVerdict VerdictOf(IReadOnlyList<TimedVolts> readings, DischargeBounds bounds, Estimate? toLimit)
    {
        if (Stands(readings, bounds))
        {
            return DischargeVerdict.NotFalling;
        }

        if (toLimit is not { } seconds || !Tells(readings, 0, bounds))
        {
            return DischargeVerdict.TooFew;
        }

        return seconds.Upper > InSeconds(bounds.Left) ? DischargeVerdict.TooSlow : DischargeVerdict.FallingAsExpected;
    }

    /// <summary>The last reading is above an earlier one by more than the floor.</summary>
    private static bool Rises(IReadOnlyList<TimedVolts> readings, Volts floor)
    {
        var lowest = readings[0].Volts.Magnitude;
        foreach (var reading in readings)
        {
            lowest = reading.Volts.Magnitude < lowest ? reading.Volts.Magnitude : lowest;
        }

        return readings[^1].Volts.Magnitude - lowest > floor;
    }

    /// <summary>From some reading to the last, three or more over the least time, the voltage fell by no more than the floor.</summary>
    private static bool Stands(IReadOnlyList<TimedVolts> readings, DischargeBounds bounds)
    {
        for (var first = readings.Count - DischargeFit.LeastReadings; first >= 0; first--)
        {
            if (readings[first].Volts.Magnitude - readings[^1].Volts.Magnitude > bounds.Floor)
            {
                return false;
            }

            if (Tells(readings, first, bounds))
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>
    /// True when the readings from one to the last are enough to tell: three, over the least time, in which a circuit that reaches the
    /// limit just as the waits end would have fallen by more than the floor.
    /// </summary>
    private static bool Tells(IReadOnlyList<TimedVolts> readings, int first, DischargeBounds bounds)
    {
        var span = readings[^1].At - readings[first].At;
        if (readings.Count - first < DischargeFit.LeastReadings || span < LeastSpan)
        {
            return false;
        }

        var start = InVolts(readings[first].Volts);
        var passed = InSeconds(span) / (InSeconds(span) + InSeconds(bounds.Left));
        var needed = start - (start * Math.Pow(InVolts(bounds.Limit) / start, passed));
        return needed > InVolts(bounds.Floor);
    }

    /// <summary>Nothing shown has no logarithm, and says nothing about the time constant.</summary>
    private static DischargeFit? Fit(IReadOnlyList<TimedVolts> readings)
    {
        var points = readings
            .Where(reading => reading.Volts.Millivolts != 0)
            .Select(reading => new DischargePoint(InSeconds(reading.At - readings[0].At), InVolts(reading.Volts)))
            .ToList();
        return points.Count < DischargeFit.LeastReadings ? null : DischargeFit.Of(points);
    }

    private static double InVolts(Volts volts) => volts.Magnitude.Millivolts / 1000.0;

    private static double InSeconds(Ticks time) => (double)time.Nanoseconds / Ticks.PerSecond;

    private static void Check(IReadOnlyList<TimedVolts> readings)
    {
        if (readings.Count == 0)
        {
            throw new ArgumentException("There is no reading to judge.", nameof(readings));
        }

        for (var index = 1; index < readings.Count; index++)
        {
            if (readings[index].At <= readings[index - 1].At)
            {
                throw new ArgumentException($"Reading {index + 1} is not later than the one before it.", nameof(readings));
            }
        }
    }
}
