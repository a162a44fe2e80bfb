using System.Text.Json;
using Companion.Contracts;
using Companion.Journal.Format;

namespace Companion.Journal.Proof;

/// <summary>
/// What goes with the export of a job so that somebody else than the tablet vouches for it: the tablet's signed head of the job, and where
/// that head stands in the watch room's tree. `shared/schemas/proof.schema.json` describes it. Pure; any thread.
/// </summary>
/// <param name="Head">The tablet's `head.signed` entry: its canonical form is the content of the leaf.</param>
/// <param name="TabletKey">The key that signed it: SubjectPublicKeyInfo, base64.</param>
/// <param name="LeafIndex">The leaf's place in the tree, from 0.</param>
/// <param name="Path">The audit path from the leaf up.</param>
/// <param name="TreeHead">The signed head of the tree that the path leads to.</param>
/// <param name="RoomKey">The watch room's key: SubjectPublicKeyInfo, base64.</param>
public sealed record ProofDocument(
    JournalEntry Head, string TabletKey, long LeafIndex, IReadOnlyList<byte[]> Path, SignedTreeHead TreeHead, string RoomKey)
{
    /// <summary>The name of the format.</summary>
    public const string Format = "urn:companion:proof:1";

    /// <summary>Largest document that is read: a path has one step for each doubling of the tree.</summary>
    public const int LargestDocument = 2 << 20;

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    /// <summary>The document as JSON.</summary>
    public byte[] ToJson()
    {
        using var head = JsonDocument.Parse(Head.Bytes);
        return JsonSerializer.SerializeToUtf8Bytes(
            new
            {
                format = Format,
                head = head.RootElement,
                tabletkey = TabletKey,
                leafindex = LeafIndex,
                path = Path.Select(Convert.ToHexStringLower),
                treehead = new { size = TreeHead.Size, root = TreeHead.Root, time = TreeHead.Time, signature = TreeHead.Signature },
                roomkey = RoomKey,
            },
            Indented);
    }

    /// <summary>Reads a document; one that is none throws <see cref="FormatException"/>.</summary>
    public static ProofDocument Parse(ReadOnlyMemory<byte> json)
    {
        if (json.Length > LargestDocument)
        {
            throw new FormatException($"a proof has at most {LargestDocument} bytes");
        }

        try
        {
            using var document = JsonDocument.Parse(json);
            var root = document.RootElement;
            if (Text(root, "format") != Format)
            {
                throw new FormatException($"its format is not {Format}");
            }

            var tree = root.GetProperty("treehead");
            return new ProofDocument(
                EntryCodec.Parse(CanonicalJson.OfText(root.GetProperty("head").GetRawText())),
                Text(root, "tabletkey"),
                root.GetProperty("leafindex").GetInt64(),
                [.. root.GetProperty("path").EnumerateArray().Select(step => Convert.FromHexString(step.GetString()!))],
                new SignedTreeHead(tree.GetProperty("size").GetInt64(), Text(tree, "root"), Text(tree, "time"), Text(tree, "signature")),
                Text(root, "roomkey"));
        }
        catch (Exception cause) when (cause is JsonException or KeyNotFoundException or InvalidOperationException or ArgumentNullException)
        {
            throw new FormatException($"a member is missing or is not what it must be ({cause.Message})", cause);
        }
    }

    private static string Text(JsonElement element, string name) =>
        element.GetProperty(name).GetString() ?? throw new FormatException($"'{name}' is missing");
}
