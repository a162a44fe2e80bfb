using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Companion.Contracts;
using Companion.Journal.Format;
using Companion.Journal.Linking;

namespace Companion.Journal.Heads;

/// <summary>
/// What a `head.signed` entry says: this tablet's chain of this job ends here. The signature also covers the entry before it in the
/// tablet's chain, so it vouches for both. Pure; any thread.
/// </summary>
/// <param name="Job">The chain.</param>
/// <param name="Head">Its end.</param>
public sealed record HeadStatement(string Job, ChainHead Head)
{
    /// <summary>Data of the entry, signed.</summary>
    internal string Signed(IHeadSigner signer, Guid tablet, string tabletHash) => JsonSerializer.Serialize(new
    {
        job = Job,
        lastsequence = Head.Sequence,
        lasthash = Head.Hash,
        keyid = KeyId(signer.PublicKey),
        signature = Convert.ToBase64String(signer.Sign(BytesToSign(tablet, tabletHash))),
    });

    /// <summary>Reads the statement of an entry; throws <see cref="FormatException"/>.</summary>
    public static HeadStatement Of(JournalEntry entry)
    {
        using var document = JsonDocument.Parse(entry.Data);
        return new HeadStatement(
            Text(document, "job"),
            new ChainHead(document.RootElement.GetProperty("lastsequence").GetInt64(), Text(document, "lasthash")));
    }

    /// <summary>What does not fit about an entry's signature under the known keys (by key id); null when it fits.</summary>
    public static string? Misfit(JournalEntry entry, IReadOnlyDictionary<string, string> publicKeys)
    {
        try
        {
            using var document = JsonDocument.Parse(entry.Data);
            if (!publicKeys.TryGetValue(Text(document, "keyid"), out var publicKey))
            {
                return "it is signed with a key the tablet's chain does not name";
            }

            var statement = Of(entry).BytesToSign(EntryCodec.TabletOf(entry), entry.PreviousHash);
            return P256.Fits(publicKey, statement, Text(document, "signature"))
                ? null
                : "its signature does not fit";
        }
        catch (Exception cause) when (cause is FormatException or CryptographicException or KeyNotFoundException or InvalidOperationException)
        {
            return $"its signature cannot be read ({cause.Message})";
        }
    }

    /// <summary>The public key an opening entry of the tablet's chain names; null for other entries.</summary>
    public static string? PublicKeyIn(JournalEntry entry)
    {
        if (entry.Chain != Chains.Tablet || entry.Type is not (EntryTypes.StoreCreated or EntryTypes.SegmentStarted))
        {
            return null;
        }

        using var document = JsonDocument.Parse(entry.Data);
        return document.RootElement.TryGetProperty("publickey", out var key) ? key.GetString() : null;
    }

    /// <summary>Short name of a public key: the first 16 hex digits of its SHA-256.</summary>
    public static string KeyId(string publicKey) => Convert.ToHexStringLower(SHA256.HashData(Encoding.ASCII.GetBytes(publicKey)))[..16];

    private static string Text(JsonDocument document, string name) =>
        document.RootElement.GetProperty(name).GetString() ?? throw new FormatException($"'{name}' is missing.");

    private byte[] BytesToSign(Guid tablet, string tabletHash) => CanonicalJson.OfText(JsonSerializer.Serialize(new
    {
        tablet,
        tablethash = tabletHash,
        job = Job,
        lastsequence = Head.Sequence,
        lasthash = Head.Hash,
    }));
}
