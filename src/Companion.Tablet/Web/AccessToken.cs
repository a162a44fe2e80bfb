using System.Security.Cryptography;
using System.Text;

namespace Companion.Tablet.Web;

/// <summary>The secret that a browser or the watchdog of this start must know: other programs on the tablet do not.</summary>
public static class AccessToken
{
    private const int Bytes = 32;

    /// <summary>A new one, 256 random bits as hex.</summary>
    public static string New() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(Bytes));

    /// <summary>Compares without telling by its speed how much was right.</summary>
    public static bool Matches(string expected, string? given) =>
        given is not null && CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(expected), Encoding.UTF8.GetBytes(given));
}
