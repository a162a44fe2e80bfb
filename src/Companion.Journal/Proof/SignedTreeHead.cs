using System.Globalization;
using System.Text.Json;
using Companion.Journal.Format;
using Companion.Journal.Heads;

namespace Companion.Journal.Proof;

/// <summary>
/// What a watch room says of its tree: so many leaves, this root, at this time. Signed over the RFC 8785 form of these and the name of the
/// format. Pure; any thread.
/// </summary>
/// <param name="Size">Number of leaves.</param>
/// <param name="Root">The root over them, lower-case hex.</param>
/// <param name="Time">RFC 3339, UTC, by the watch room's clock.</param>
/// <param name="Signature">ECDSA P-256 over SHA-256, IEEE P1363, base64.</param>
public sealed record SignedTreeHead(long Size, string Root, string Time, string Signature)
{
    /// <summary>The name of the format, part of what is signed.</summary>
    public const string Format = "urn:companion:tree:1";

    private const string TimeForm = "yyyy-MM-dd'T'HH:mm:ss.fffffff'Z'";

    /// <summary>Signs the head of a tree.</summary>
    public static SignedTreeHead Sign(IHeadSigner signer, long size, ReadOnlySpan<byte> root, DateTimeOffset time)
    {
        var head = new SignedTreeHead(
            size, Convert.ToHexStringLower(root), time.UtcDateTime.ToString(TimeForm, CultureInfo.InvariantCulture), string.Empty);
        return head with { Signature = Convert.ToBase64String(signer.Sign(head.Statement())) };
    }

    /// <summary>True when the signature is this key's.</summary>
    /// <exception cref="FormatException">Key or signature is not base64.</exception>
    /// <exception cref="System.Security.Cryptography.CryptographicException">The key is none.</exception>
    public bool Fits(string publicKey) => P256.Fits(publicKey, Statement(), Signature);

    private byte[] Statement() => CanonicalJson.OfText(JsonSerializer.Serialize(new { format = Format, size = Size, root = Root, time = Time }));
}
