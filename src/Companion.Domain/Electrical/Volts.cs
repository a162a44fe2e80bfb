using System.Globalization;

namespace Companion.Domain.Electrical;

/// <summary>A voltage in whole millivolts, exact, compared by magnitude where limits are concerned (leads may be reversed).</summary>
/// <param name="Millivolts">The value; negative when the probes were reversed.</param>
public readonly record struct Volts(long Millivolts) : IComparable<Volts>
{
    /// <summary>The largest magnitude that is taken as a voltage at all.</summary>
    public const long MostVolts = 99_999;

    /// <summary>Whole volts.</summary>
    public static Volts Of(long volts) => new(checked(volts * 1000));

    /// <summary>The value without its sign.</summary>
    public Volts Magnitude => new(Math.Abs(Millivolts));

    /// <summary>Reads "12", "12.0", "-0.5"; at most three decimals, at most <see cref="MostVolts"/>. Null when it is none of these.</summary>
    public static Volts? TryParse(string? text)
    {
        const NumberStyles styles = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint;
        if (!decimal.TryParse(text, styles, CultureInfo.InvariantCulture, out var value) || Math.Abs(value) > MostVolts)
        {
            return null;
        }

        var thousandths = value * 1000;
        return thousandths == decimal.Truncate(thousandths) ? new Volts((long)thousandths) : null;
    }

    /// <summary>Reads a voltage that is known to be well formed.</summary>
    /// <exception cref="FormatException">It was not.</exception>
    public static Volts Parse(string text) => TryParse(text) ?? throw new FormatException($"'{text}' is not a voltage.");

    /// <inheritdoc/>
    public int CompareTo(Volts other) => Millivolts.CompareTo(other.Millivolts);

    /// <summary>Shortest exact decimal text without a unit: "12", "0.5".</summary>
    public override string ToString() => (Millivolts / 1000m).ToString("0.###", CultureInfo.InvariantCulture);

    public static Volts operator +(Volts left, Volts right) => new(checked(left.Millivolts + right.Millivolts));

    public static Volts operator -(Volts left, Volts right) => new(checked(left.Millivolts - right.Millivolts));

    public static bool operator <(Volts left, Volts right) => left.Millivolts < right.Millivolts;

    public static bool operator >(Volts left, Volts right) => left.Millivolts > right.Millivolts;

    public static bool operator <=(Volts left, Volts right) => left.Millivolts <= right.Millivolts;

    public static bool operator >=(Volts left, Volts right) => left.Millivolts >= right.Millivolts;
}
