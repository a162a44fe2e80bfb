using System.Buffers;
using System.Security.Cryptography;

namespace Companion.Journal.Format;

/// <summary>The link between two entries: SHA-256 over the 32 bytes of the hash before and the record. Pure; any thread.</summary>
public static class ChainHash
{
    private static readonly SearchValues<char> HexDigits = SearchValues.Create("0123456789abcdef");

    /// <summary>What the first entry of a chain names as its predecessor.</summary>
    public const string None = "0000000000000000000000000000000000000000000000000000000000000000";

    /// <summary>The hash of a record, as lower-case hex.</summary>
    public static string Next(string previousHash, ReadOnlySpan<byte> record) =>
        Convert.ToHexStringLower(SHA256.HashData([.. Convert.FromHexString(previousHash), .. record]));

    /// <summary>True for 64 lower-case hex digits.</summary>
    public static bool IsWellFormed(string text) => text.Length == 64 && !text.AsSpan().ContainsAnyExcept(HexDigits);
}
