namespace Companion.Domain.Electrical;

/// <summary>
/// A capacitor discharging through a resistor: V(t) = V0 exp(-t / tau), tau = R C. Used to explain and to rehearse; it never stands in for
/// a wait or a measurement, because a bleed resistor may be open. Floating point is right here: nothing of it decides what is accepted.
/// Units: volts, ohms, farads, seconds, joules.
/// </summary>
public static class DischargeLaw
{
    /// <summary>The time constant in seconds; infinite when the resistor is open (<see cref="double.PositiveInfinity"/> ohms).</summary>
    public static double TimeConstant(double ohms, double farads)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(ohms);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(farads);
        return ohms * farads;
    }

    /// <summary>The voltage left after a time. With an infinite time constant nothing ever leaves.</summary>
    public static double VoltsAfter(double startVolts, double timeConstant, double seconds)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(timeConstant);
        ArgumentOutOfRangeException.ThrowIfNegative(seconds);
        return startVolts * Math.Exp(-seconds / timeConstant);
    }

    /// <summary>The seconds until a voltage is reached: zero when it already is, infinite when it never will be.</summary>
    public static double SecondsTo(double startVolts, double targetVolts, double timeConstant)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(startVolts);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(targetVolts);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(timeConstant);
        return startVolts <= targetVolts ? 0 : timeConstant * Math.Log(startVolts / targetVolts);
    }

    /// <summary>The time constant in seconds from two readings; infinite when the voltage did not fall.</summary>
    /// <param name="earlierVolts">The first reading, over zero.</param>
    /// <param name="laterVolts">The second reading, over zero.</param>
    /// <param name="secondsBetween">From the first to the second, over zero.</param>
    public static double TimeConstantFrom(double earlierVolts, double laterVolts, double secondsBetween)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(earlierVolts);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(laterVolts);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(secondsBetween);
        return laterVolts >= earlierVolts ? double.PositiveInfinity : secondsBetween / Math.Log(earlierVolts / laterVolts);
    }

    /// <summary>The energy held, E = C V^2 / 2, in joules.</summary>
    public static double Joules(double farads, double volts) => farads * volts * volts / 2;

    /// <summary>The voltage at which a capacitor holds an energy.</summary>
    public static double VoltsHolding(double joules, double farads)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(joules);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(farads);
        return Math.Sqrt(2 * joules / farads);
    }
}
