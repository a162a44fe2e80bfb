using System.Globalization;

namespace Companion.Screens.Colours;

/// <summary>The contrast ratio of two colours (WCAG 2.2, relative luminance and contrast ratio).</summary>
public static class Contrast
{
    /// <summary>The ratio, 1 to 21.</summary>
    /// <exception cref="FormatException">A colour is not "#RRGGBB".</exception>
    public static double Ratio(string one, string other)
    {
        var (first, second) = (Luminance(one), Luminance(other));
        return (Math.Max(first, second) + 0.05) / (Math.Min(first, second) + 0.05);
    }

    private static double Luminance(string colour)
    {
        if (colour.Length != 7 || colour[0] != '#')
        {
            throw new FormatException($"'{colour}' is not a colour.");
        }

        return (0.2126 * Channel(colour, 1)) + (0.7152 * Channel(colour, 3)) + (0.0722 * Channel(colour, 5));
    }

    private static double Channel(string colour, int at)
    {
        var value = int.Parse(colour.AsSpan(at, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255.0;
        return value <= 0.04045 ? value / 12.92 : Math.Pow((value + 0.055) / 1.055, 2.4);
    }
}
