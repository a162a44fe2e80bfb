using System.Collections.Immutable;

namespace Companion.Domain.Electrical;

/// <summary>
/// Isolation resistance by a voltmeter and a known resistor (UN R100, annex on measuring isolation resistance; FMVSS 305 S7.6 gives the same
/// result). Live work on a connected pack: a workshop calculation, never a roadside step, and no part of a job. Pure.
/// </summary>
public static class IsolationResistance
{
    /// <summary>Least ohms per volt of a DC system. UN R100 5.1.3.</summary>
    public const decimal LeastOhmsPerVoltDc = 100;

    /// <summary>Least ohms per volt of a system with AC parts joined to it. UN R100 5.1.3.</summary>
    public const decimal LeastOhmsPerVoltAc = 500;

    /// <summary>Least internal resistance of the voltmeter in megohms: a lower one is itself a fault to chassis. UN R100 annex.</summary>
    public const decimal LeastMeterMegohms = 10;

    /// <summary>How far the known resistor may be from limit times voltage, in percent. UN R100 annex.</summary>
    public const decimal ResistorPercent = 20;

    /// <summary>What a multimeter may be off in percent of the reading when nothing else is known. Common practice, no source.</summary>
    public const decimal UsualMeterPercent = 1;

    /// <summary>Largest known resistor in ohms that is taken as one at all.</summary>
    public const decimal MostOhms = 1_000_000_000;

    /// <summary>A voltage under this, in volts, is read as zero: no meter shows it.</summary>
    public const decimal Nothing = 0.001m;

    /// <summary>The rail from which the known resistor goes to chassis: that with the larger voltage to chassis, the negative when equal.</summary>
    public static Rail ResistorFrom(IsolationReadings readings) =>
        readings.NegativeToChassis >= readings.PositiveToChassis ? Rail.Negative : Rail.Positive;

    /// <summary>The resistance, or why the readings cannot be used.</summary>
    public static IsolationResult Of(IsolationReadings readings)
    {
        if (Unusable(readings) is { } reason)
        {
            return new IsolationResult.Unusable(reason);
        }

        var from = ResistorFrom(readings);
        var larger = Larger(readings);
        var ohms = readings.KnownOhms * readings.RailToRail * ((1 / readings.Primed) - (1 / larger));
        var weak = from == Rail.Negative ? Rail.Positive : Rail.Negative;
        return new IsolationResult.Found(ohms, ohms / readings.RailToRail, weak, Cautions(readings));
    }

    private static decimal Larger(IsolationReadings readings) => Math.Max(readings.NegativeToChassis, readings.PositiveToChassis);

    private static string? Unusable(IsolationReadings readings)
    {
        if (readings.RailToRail < Nothing || readings.NegativeToChassis < 0 || readings.PositiveToChassis < 0 || readings.Primed < 0
            || readings.MeterPercent < 0)
        {
            return "Voltages are given as magnitudes, rail to rail over zero. Measure with the pack connected.";
        }

        if (readings.RailToRail > VoltageLimits.ClassBMostDc.Millivolts / 1000m || readings.KnownOhms is <= 0 or > MostOhms)
        {
            return $"Rail to rail is at most {VoltageLimits.ClassBMostDc} volts, and the known resistor over zero and at most {MostOhms} ohms. Check the figures.";
        }

        if (readings.MeterMegohms < LeastMeterMegohms)
        {
            return $"A voltmeter of {readings.MeterMegohms} megohms disturbs what it measures. Use one of {LeastMeterMegohms} megohms or more.";
        }

        return Misread(readings) ?? (readings.Primed < Nothing ? "With the resistor fitted the voltage is zero: the resistor bridges it, or a probe has no contact. Measure again."
            : readings.Primed >= Larger(readings)
                ? $"With the resistor fitted from the {ResistorFrom(readings).ToString().ToLowerInvariant()} rail the voltage must be lower than without. "
                    + "See that the resistor has contact and sits at the rail with the larger voltage to chassis, then measure again."
            : null);
    }

    /// <summary>Rail to rail is the sum of both rails to chassis, as far as the meter can tell (Kirchhoff's voltage law).</summary>
    private static string? Misread(IsolationReadings readings)
    {
        var sum = readings.NegativeToChassis + readings.PositiveToChassis;
        var apart = Math.Abs(readings.RailToRail - sum);
        var allowed = readings.MeterPercent / 100 * (readings.RailToRail + sum);
        return apart <= allowed ? null
            : $"Rail to rail is {readings.RailToRail:0.###} volts, and both rails to chassis make {sum:0.###} volts: "
                + "further apart than the meter explains. A probe was misplaced or missed contact. Measure again.";
    }

    private static ImmutableArray<string> Cautions(IsolationReadings readings)
    {
        var fits = Fits(readings, LeastOhmsPerVoltDc) || Fits(readings, LeastOhmsPerVoltAc);
        return fits ? []
            :
            [
                $"The known resistor of {readings.KnownOhms:0.###} ohms is not within {ResistorPercent} percent of limit times voltage: "
                    + $"{LeastOhmsPerVoltDc * readings.RailToRail:0.###} ohms for a DC system, {LeastOhmsPerVoltAc * readings.RailToRail:0.###} ohms with AC parts. "
                    + "The figure is less sure.",
            ];
    }

    private static bool Fits(IsolationReadings readings, decimal limit)
    {
        var wanted = limit * readings.RailToRail;
        return Math.Abs(readings.KnownOhms - wanted) <= ResistorPercent / 100 * wanted;
    }
}
