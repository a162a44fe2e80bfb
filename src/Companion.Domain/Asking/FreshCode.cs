using System.Globalization;

namespace Companion.Domain.Asking;

/// <summary>The two-digit number that the technician repeats to confirm something that matters.</summary>
public static class FreshCode
{
    /// <summary>A code from a random draw: two different digits, and never the code that has just failed.</summary>
    public static string From(int draw, string? previous)
    {
        var tens = (int)((uint)draw % 10);
        var units = (tens + 1 + (int)((uint)draw / 10 % 9)) % 10;
        var code = Text(tens, units);
        return code == previous ? Text(units, tens) : code;
    }

    private static string Text(int tens, int units) => string.Create(CultureInfo.InvariantCulture, $"{tens}{units}");
}
