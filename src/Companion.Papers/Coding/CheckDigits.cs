using System.Buffers.Binary;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Companion.Papers.Coding;

/// <summary>
/// Fifteen digits under the code of a paper: fourteen from SHA-256 over the statement, without its signature, and one that catches a slip while typing
/// (ISO/IEC 7812-1, the Luhn digit). Who holds the record makes the statement again and compares. They tell papers apart; they are no signature. Pure.
/// </summary>
public static class CheckDigits
{
    /// <summary>How many digits.</summary>
    public const int Count = 15;

    private const int Group = 5;

    /// <summary>The digits of a statement, in groups of five.</summary>
    public static string Of(PaperStatement statement)
    {
        var hash = SHA256.HashData(Encoding.UTF8.GetBytes(StatementText.Of(statement)));
        var digits = (BinaryPrimitives.ReadUInt64BigEndian(hash) % 100_000_000_000_000).ToString("D14", CultureInfo.InvariantCulture);
        return Grouped(digits + Luhn(digits));
    }

    /// <summary>Digits as somebody typed them, grouped as they are printed; null when a digit is missing, too much or wrong by itself.</summary>
    public static string? Read(string typed)
    {
        var digits = string.Concat(typed.Where(letter => letter is not (' ' or '-' or '.')));
        return digits.Length == Count && digits.All(char.IsAsciiDigit) && Luhn(digits[..^1]) == digits[^1] ? Grouped(digits) : null;
    }

    private static string Grouped(string digits) => string.Join(' ', digits.Chunk(Group).Select(group => new string(group)));

    private static char Luhn(string digits)
    {
        var sum = 0;
        for (var at = 0; at < digits.Length; at++)
        {
            var doubled = (digits[digits.Length - 1 - at] - '0') * (at % 2 == 0 ? 2 : 1);
            sum += doubled > 9 ? doubled - 9 : doubled;
        }

        return (char)('0' + ((10 - (sum % 10)) % 10));
    }
}
