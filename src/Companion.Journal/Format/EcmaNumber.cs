using System.Globalization;

namespace Companion.Journal.Format;

/// <summary>
/// Prints a double as ECMAScript's Number::toString does, which RFC 8785 section 3.2.2.3 asks for. The base library finds the
/// shortest digits; this lays them out. Throws <see cref="FormatException"/> for what JSON cannot hold.
/// </summary>
public static class EcmaNumber
{
    // ECMA-262 Number::toString: plain digits up to 10^21, plain fractions down to 10^-6.
    private const int LargestPlainExponent = 21;
    private const int SmallestPlainExponent = -6;

    /// <summary>The text of a finite number; minus zero is "0".</summary>
    public static string Format(double value)
    {
        if (!double.IsFinite(value))
        {
            throw new FormatException("Not a finite number, which JSON cannot hold.");
        }

        if (value == 0)
        {
            return "0";
        }

        var (digits, exponent) = Shortest(Math.Abs(value));
        var sign = value < 0 ? "-" : "";
        return sign + LayOut(digits, exponent);
    }

    /// <summary>The digits d and the n with value = 0.d x 10^n.</summary>
    private static (string Digits, int Exponent) Shortest(double magnitude)
    {
        var text = magnitude.ToString("R", CultureInfo.InvariantCulture);
        var exponent = 0;
        var e = text.IndexOf('E', StringComparison.Ordinal);
        if (e >= 0)
        {
            exponent = int.Parse(text[(e + 1)..], CultureInfo.InvariantCulture);
            text = text[..e];
        }

        var point = text.IndexOf('.', StringComparison.Ordinal);
        exponent += point >= 0 ? point : text.Length;
        var digits = text.Replace(".", "", StringComparison.Ordinal);
        var significant = digits.TrimStart('0');
        return (significant.TrimEnd('0'), exponent - (digits.Length - significant.Length));
    }

    private static string LayOut(string digits, int exponent)
    {
        if (digits.Length <= exponent && exponent <= LargestPlainExponent)
        {
            return digits + new string('0', exponent - digits.Length);
        }

        if (exponent is > 0 and <= LargestPlainExponent)
        {
            return $"{digits[..exponent]}.{digits[exponent..]}";
        }

        if (exponent is > SmallestPlainExponent and <= 0)
        {
            return $"0.{new string('0', -exponent)}{digits}";
        }

        var power = exponent - 1;
        var mantissa = digits.Length == 1 ? digits : $"{digits[..1]}.{digits[1..]}";
        return $"{mantissa}e{(power < 0 ? "-" : "+")}{Math.Abs(power).ToString(CultureInfo.InvariantCulture)}";
    }
}
