using System.Security.Cryptography;

namespace Companion.Journal.Heads;

/// <summary>ECDSA P-256 over SHA-256 as this journal writes it: SubjectPublicKeyInfo and the 64 bytes of IEEE P1363, both base64. Pure; any thread.</summary>
public static class P256
{
    /// <summary>True when the signature is the key's over these bytes.</summary>
    /// <exception cref="FormatException">Key or signature is not base64.</exception>
    /// <exception cref="CryptographicException">The key is none.</exception>
    public static bool Fits(string publicKey, ReadOnlySpan<byte> statement, string signature)
    {
        using var key = ECDsa.Create();
        key.ImportSubjectPublicKeyInfo(Convert.FromBase64String(publicKey), out _);
        return key.VerifyData(statement, Convert.FromBase64String(signature), HashAlgorithmName.SHA256);
    }

    /// <summary>The public key of a PEM text, or of its base64 alone; null when it holds none.</summary>
    public static string? PublicKeyIn(string text)
    {
        using var key = ECDsa.Create();
        try
        {
            if (text.Contains("-----BEGIN", StringComparison.Ordinal))
            {
                key.ImportFromPem(text);
            }
            else
            {
                key.ImportSubjectPublicKeyInfo(Convert.FromBase64String(text.Trim()), out _);
            }

            return Convert.ToBase64String(key.ExportSubjectPublicKeyInfo());
        }
        catch (Exception cause) when (cause is ArgumentException or FormatException or CryptographicException)
        {
            return null;
        }
    }
}
