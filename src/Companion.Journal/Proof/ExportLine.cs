using System.Buffers;
using System.Text;
using System.Text.Json;
using Companion.Contracts;
using Companion.Engine.Codec.Upcasting;
using Companion.Journal.Format;

namespace Companion.Journal.Proof;

/// <summary>
/// One line of an export, or of a batch to the watch room: an entry in canonical form, with its personal texts in a `sealed` member outside
/// the hash where there are any. What does not fit throws <see cref="FormatException"/>. No state; any thread.
/// </summary>
public static class ExportLine
{
    private const string SchemaMember = "dataschema";

    private static ReadOnlySpan<byte> SealedName => "\"sealed\":"u8;

    /// <summary>The line of an entry.</summary>
    public static ReadOnlyMemory<byte> Of(JournalEntry entry) => Of(entry.Bytes, entry.Sealed);

    /// <summary>The line of an entry's canonical form and its personal texts.</summary>
    internal static ReadOnlyMemory<byte> Of(ReadOnlyMemory<byte> entry, SealedTexts texts)
    {
        if (texts.Count == 0)
        {
            return entry;
        }

        using var buffer = new MemoryStream();
        using (var writer = new Utf8JsonWriter(buffer))
        {
            SealedJson.Write(writer, texts);
        }

        var open = Encoding.UTF8.GetString(entry.Span[..^1]);
        return CanonicalJson.OfText($"{open},\"{SealedJson.MemberName}\":{Encoding.UTF8.GetString(buffer.ToArray())}}}");
    }

    /// <summary>The bytes that were hashed, and the personal texts, which are those that the entry was made with. The hash itself is not checked.</summary>
    public static (ReadOnlyMemory<byte> Entry, SealedTexts Texts) Open(ReadOnlyMemory<byte> line)
    {
        // Most lines have none. A name written in another way is not canonical, which whoever reads the entry finds.
        if (line.Span.IndexOf(SealedName) < 0)
        {
            return (line, new Dictionary<string, SealedText>());
        }

        using var document = CanonicalJson.Parse(line);
        if (document.RootElement.ValueKind != JsonValueKind.Object
            || !document.RootElement.TryGetProperty(SealedJson.MemberName, out var texts))
        {
            return (line, new Dictionary<string, SealedText>());
        }

        if (!Canonical(document.RootElement, without: null).Span.SequenceEqual(line.Span))
        {
            throw new FormatException("the line is not in canonical form");
        }

        var read = SealedJson.Read(texts);
        return Misfit(read, document.RootElement) is { } misfit
            ? throw new FormatException(misfit)
            : (Canonical(document.RootElement, SealedJson.MemberName), read);
    }

    /// <summary>The entry of a line, its hash checked, with its personal texts.</summary>
    public static JournalEntry Parse(ReadOnlyMemory<byte> line)
    {
        var (entry, texts) = Open(line);
        return EntryCodec.Parse(entry) with { Sealed = texts };
    }

    /// <summary>The entries of a whole export, their hashes checked, with their personal texts.</summary>
    public static IEnumerable<JournalEntry> ReadAll(ReadOnlyMemory<byte> export) =>
        Frames.EntryBatch.Split(export).Where(line => !line.IsEmpty).Select(Parse);

    /// <summary>The format version that a line claims; null when it claims none. A line of a later version may look different in everything else.</summary>
    public static int? VersionOf(ReadOnlyMemory<byte> line)
    {
        using var document = CanonicalJson.Parse(line);
        return document.RootElement.ValueKind == JsonValueKind.Object
            && document.RootElement.TryGetProperty(SchemaMember, out var schema) && schema.ValueKind == JsonValueKind.String
                ? EntryFormat.VersionOf(CanonicalJson.StringOf(schema))
                : null;
    }

    private static ReadOnlyMemory<byte> Canonical(JsonElement line, string? without)
    {
        var output = new ArrayBufferWriter<byte>();
        CanonicalJson.WriteObject(line, output, without);
        return output.WrittenMemory;
    }

    private static string? Misfit(SealedTexts texts, JsonElement line)
    {
        foreach (var (name, text) in texts)
        {
            if (!line.TryGetProperty("data", out var data) || data.ValueKind != JsonValueKind.Object
                || !data.TryGetProperty(name, out var hash) || hash.ValueKind != JsonValueKind.String
                || CanonicalJson.StringOf(hash) != PersonalText.HashOf(text))
            {
                return $"the sealed text '{name}' is not the one the entry was made with";
            }
        }

        return null;
    }
}
