using System.Security.Cryptography;
using Companion.Contracts;

namespace Companion.Journal.Format;

/// <summary>
/// Keeps a personal text out of the chain: the entry holds SHA-256(salt, text), salt and text lie beside it. Without the 16 random
/// bytes of salt a name could be guessed from its hash; with both erased the hash says nothing and still fits. Any thread.
/// </summary>
public static class PersonalText
{
    /// <summary>Length of a salt in bytes.</summary>
    public const int SaltLength = 16;

    /// <summary>Seals a text with a salt.</summary>
    public static SealedText Seal(ReadOnlySpan<byte> salt, string text) => new(Convert.ToHexStringLower(salt), text);

    /// <summary>
    /// What the entry's data holds for a sealed text: lower-case hex. Throws <see cref="FormatException"/> for a malformed salt.
    /// </summary>
    public static string HashOf(SealedText text)
    {
        // Upper-case hex would decode to the same bytes, and a changed export would pass for the original.
        if (text.Salt.Length != 2 * SaltLength || !text.Salt.All(char.IsAsciiHexDigitLower))
        {
            throw new FormatException("A salt is 32 lower-case hex digits.");
        }

        using var sha = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        sha.AppendData(Convert.FromHexString(text.Salt));
        sha.AppendData(CanonicalJson.StrictBytes(text.Text));
        return Convert.ToHexStringLower(sha.GetHashAndReset());
    }
}
