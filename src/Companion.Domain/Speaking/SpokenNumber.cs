using System.Text;

namespace Companion.Domain.Speaking;

/// <summary>
/// Numbers as they are spoken: digit by digit, "decimal" for the point (ICAO Annex 10 vol. II 5.2.1.4). Whole hundreds and
/// thousands are understood ("four hundred") but never said: an echo of every digit cannot be mistaken ("sixty", "sixteen").
/// Pure text in, text out; nothing throws on words that are no number.
/// </summary>
public static class SpokenNumber
{
    /// <summary>Most digits before the point.</summary>
    public const int MaximumWholeDigits = 6;

    /// <summary>Most digits after the point.</summary>
    public const int MaximumDecimals = 3;

    private static readonly string[] Names = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];

    /// <summary>
    /// The number as text: "400", "0.5", "-61". Leading zeros are dropped, decimals kept as said. Null when the words are no number.
    /// </summary>
    public static string? Parse(string words) => Parse(Split(words));

    /// <summary>The same for words already split.</summary>
    public static string? Parse(IReadOnlyList<string> words)
    {
        var at = 0;
        var negative = words.Count > 0 && words[0] == "minus";
        if (negative)
        {
            at++;
        }

        if (Whole(words, ref at) is not { } whole)
        {
            return null;
        }

        var decimals = string.Empty;
        if (at < words.Count && words[at] is "decimal" or "point")
        {
            at++;
            decimals = DigitRun(words, ref at);
            if (decimals.Length is 0 or > MaximumDecimals)
            {
                return null;
            }
        }

        return at < words.Count ? null : Written(negative, whole, decimals);
    }

    /// <summary>The digits said one by one, zeros kept: "04" for "zero four". Null when any word is no digit.</summary>
    public static string? Digits(string words)
    {
        var split = Split(words);
        var at = 0;
        var digits = DigitRun(split, ref at);
        return at == split.Count && digits.Length > 0 ? digits : null;
    }

    /// <summary>
    /// The words for a written number: "12.3" gives "one two decimal three", "-61" gives "minus six one".
    /// </summary>
    /// <exception cref="FormatException">The text is not digits with at most one sign in front and one point between digits.</exception>
    public static string Say(string number)
    {
        ArgumentNullException.ThrowIfNull(number);
        return TrySay(number) ?? throw new FormatException($"\"{number}\" cannot be said as a number.");
    }

    /// <summary>The same; null when the text is not such a number.</summary>
    public static string? TrySay(string number)
    {
        var said = new StringBuilder();
        var pointSeen = false;
        for (var at = 0; at < number.Length; at++)
        {
            var word = number[at] switch
            {
                '-' when at == 0 && number.Length > 1 => "minus",
                '.' when !pointSeen && Between(number, at) => "decimal",
                >= '0' and <= '9' => Names[number[at] - '0'],
                _ => null,
            };
            if (word is null)
            {
                return null;
            }

            pointSeen |= number[at] == '.';
            said.Append(said.Length == 0 ? string.Empty : " ").Append(word);
        }

        return said.Length > 0 ? said.ToString() : null;
    }

    private static bool Between(string number, int at) =>
        at > 0 && char.IsAsciiDigit(number[at - 1]) && at + 1 < number.Length && char.IsAsciiDigit(number[at + 1]);

    private static IReadOnlyList<string> Split(string words) => words.Split(' ', StringSplitOptions.RemoveEmptyEntries);

    private static string? Whole(IReadOnlyList<string> words, ref int at)
    {
        var digits = DigitRun(words, ref at);
        if (digits.Length == 0)
        {
            return null;
        }

        if (at < words.Count && words[at] == "hundred")
        {
            at++;
            digits = digits.Length == 1 ? digits + "00" : string.Empty;
        }
        else if (at < words.Count && words[at] == "thousand")
        {
            at++;
            digits += Hundreds(words, ref at);
        }

        return digits.Length is 0 or > MaximumWholeDigits ? null : digits;
    }

    // After "thousand": nothing, or one digit and "hundred".
    private static string Hundreds(IReadOnlyList<string> words, ref int at)
    {
        if (at + 1 < words.Count && words[at + 1] == "hundred" && Digit(words[at]) is { } digit)
        {
            at += 2;
            return digit + "00";
        }

        return "000";
    }

    private static string DigitRun(IReadOnlyList<string> words, ref int at)
    {
        var digits = new StringBuilder();
        while (at < words.Count && Digit(words[at]) is { } digit)
        {
            digits.Append(digit);
            at++;
        }

        return digits.ToString();
    }

    private static char? Digit(string word) => word switch
    {
        "oh" => '0',
        "niner" => '9',
        _ => Array.IndexOf(Names, word) is >= 0 and var value ? (char)('0' + value) : null,
    };

    private static string Written(bool negative, string whole, string decimals)
    {
        var trimmed = whole.TrimStart('0');
        return (negative ? "-" : string.Empty) + (trimmed.Length == 0 ? "0" : trimmed) + (decimals.Length == 0 ? string.Empty : "." + decimals);
    }
}
