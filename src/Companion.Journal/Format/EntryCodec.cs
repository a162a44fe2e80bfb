using System.Buffers;
using System.Globalization;
using System.Text;
using System.Text.Json;
using Companion.Contracts;
using Companion.Engine.Codec.Upcasting;

namespace Companion.Journal.Format;

/// <summary>
/// Turns a draft with its place into a CloudEvents 1.0 object in RFC 8785 form, hashed into its chain, and reads such bytes back
/// strictly: what is not exactly the form this writes, or does not fit its own hash, throws <see cref="FormatException"/>.
/// No state; callable from any thread.
/// </summary>
public static class EntryCodec
{
    /// <summary>Largest entry in bytes; a pinned sheet, the largest kind, takes some tens of kilobytes.</summary>
    public const int LargestEntry = 1 << 20;

    /// <summary>Largest sequence: ten digits.</summary>
    public const long LargestSequence = 9_999_999_999;

    private const string SourcePrefix = "urn:uuid:";
    private const string TimeForm = "yyyy-MM-dd'T'HH:mm:ss.fffffffzzz";
    private const int LongestName = 64;
    private static readonly SealedTexts NothingSealed = new Dictionary<string, SealedText>();

    /// <summary>Encodes a draft. Data breaking the journal's rules throws <see cref="FormatException"/> and records nothing.</summary>
    public static JournalEntry Encode(EntryDraft draft, EntryPlace place, SealedTexts? sealedTexts = null)
    {
        var texts = sealedTexts ?? NothingSealed;
        var data = DraftData.Canonical(draft.Data, texts.Select(t => KeyValuePair.Create(t.Key, PersonalText.HashOf(t.Value))));
        var fields = new EntryFields(
            draft.Chain, place.Sequence, SourcePrefix + place.Tablet.ToString("D"), draft.Type,
            draft.Time.ToString(TimeForm, CultureInfo.InvariantCulture), draft.BootId, draft.Uptime, place.Rehearsal, data,
            place.PreviousHash, EntryFormat.Newest);
        Check(fields);
        var (record, hashPlace) = fields.Canonical();
        var hash = ChainHash.Next(place.PreviousHash, record);
        byte[] bytes = [.. record.AsSpan(0, hashPlace), .. EntryFields.HashMember(hash), .. record.AsSpan(hashPlace)];
        CheckLength(bytes.Length);
        return new JournalEntry(
            draft.Chain, place.Sequence, draft.Type, draft.Time, draft.BootId, draft.Uptime, place.Rehearsal,
            Encoding.UTF8.GetString(data), place.PreviousHash, hash, bytes, texts) { Format = EntryFormat.Newest };
    }

    /// <summary>Reads an entry from its canonical bytes; sealed texts are not part of them.</summary>
    /// <exception cref="NewerFormatException">It is of a later version of the format: what else it says is not looked at.</exception>
    public static JournalEntry Parse(ReadOnlyMemory<byte> bytes)
    {
        using var document = CanonicalJson.Parse(bytes);
        var root = document.RootElement;
        if (root.ValueKind != JsonValueKind.Object)
        {
            throw new FormatException("An entry is a JSON object.");
        }

        var format = FormatOf(root);
        var (chain, sequence) = PlaceOf(Text(root, "id"));
        var fields = new EntryFields(
            chain, sequence, Text(root, "source"), Text(root, "type"), Text(root, "time"), Text(root, "bootid"),
            Uptime(Text(root, "uptime")), Flag(root, "rehearsal"), DataOf(root), Text(root, "prevhash"), format);
        Check(fields);
        var time = Time(fields.Time);
        var (record, hashPlace) = fields.Canonical();
        var hash = ChainHash.Next(fields.PreviousHash, record);
        var stated = Text(root, "hash");
        if (!ChainHash.IsWellFormed(stated) || stated != hash)
        {
            throw new FormatException($"The entry's bytes do not fit its hash: stated {stated}, computed {hash}.");
        }

        CheckLength(bytes.Length);
        return IsJoined(bytes.Span, record.AsSpan(0, hashPlace), EntryFields.HashMember(hash), record.AsSpan(hashPlace))
            ? new JournalEntry(
                chain, sequence, fields.Type, time, fields.BootId, fields.Uptime, fields.Rehearsal,
                Encoding.UTF8.GetString(fields.Data), fields.PreviousHash, hash, bytes, NothingSealed) { Format = format }
            : throw new FormatException("The entry is not in its canonical form, or has members that are not part of the format.");
    }

    /// <summary>The place a damaged entry claims, from its `id` alone; null when not even that can be read.</summary>
    public static (string Chain, long Sequence)? ClaimedPlace(ReadOnlyMemory<byte> bytes)
    {
        try
        {
            using var document = CanonicalJson.Parse(bytes);
            return document.RootElement.ValueKind == JsonValueKind.Object ? PlaceOf(Text(document.RootElement, "id")) : null;
        }
        catch (FormatException)
        {
            return null;
        }
    }

    /// <summary>The tablet an entry came from.</summary>
    public static Guid TabletOf(JournalEntry entry)
    {
        using var document = CanonicalJson.Parse(entry.Bytes);
        return Guid.ParseExact(Text(document.RootElement, "source")[SourcePrefix.Length..], "D");
    }

    /// <summary>True for a name a chain may have: 1 to 64 of letters, digits, '.', '_' and '-'.</summary>
    public static bool IsChainName(string name) =>
        name.Length is > 0 and <= LongestName && name.All(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '_' or '-');

    private static bool IsJoined(ReadOnlySpan<byte> whole, ReadOnlySpan<byte> head, ReadOnlySpan<byte> middle, ReadOnlySpan<byte> tail) =>
        whole.Length == head.Length + middle.Length + tail.Length
        && whole.StartsWith(head) && whole[head.Length..].StartsWith(middle) && whole.EndsWith(tail);

    private static void CheckLength(int length) => Require(length <= LargestEntry, $"The entry has {length} bytes; the limit is {LargestEntry}.");

    private static void Check(EntryFields fields)
    {
        Require(
            IsChainName(fields.Chain),
            $"'{fields.Chain}' is not a chain name: letters, digits, '.', '_' and '-', at most {LongestName}.");
        Require(fields.Sequence is > 0 and <= LargestSequence, $"Sequence {fields.Sequence} is out of range.");
        Require(IsTypeName(fields.Type), $"'{fields.Type}' is not an entry type: words of a-z and 0-9 joined by '.'.");
        Require(fields.BootId.Length is > 0 and <= LongestName, "The boot id is missing or too long.");
        Require(fields.Uptime >= 0, "The uptime is negative.");
        Require(ChainHash.IsWellFormed(fields.PreviousHash), "The previous hash is not 64 lower-case hex digits.");
        Require(
            fields.Source.StartsWith(SourcePrefix, StringComparison.Ordinal)
                && Guid.TryParseExact(fields.Source[SourcePrefix.Length..], "D", out _),
            "The source is not urn:uuid: and a tablet's identity.");
    }

    private static bool IsTypeName(string type) =>
        type.Length is > 0 and <= LongestName
        && type.Split('.').All(word => word.Length > 0 && word.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c)));

    private static void Require(bool holds, string otherwise)
    {
        if (!holds)
        {
            throw new FormatException(otherwise);
        }
    }

    private static int FormatOf(JsonElement root)
    {
        var schema = Text(root, "dataschema");
        return EntryFormat.VersionOf(schema) is not { } version ? throw new FormatException($"'{schema}' is no version of the journal's format.")
            : version > EntryFormat.Newest ? throw new NewerFormatException(version)
            : version;
    }

    private static JsonElement Member(JsonElement root, string name) =>
        root.TryGetProperty(name, out var value) ? value : throw new FormatException($"The entry has no '{name}'.");

    private static string Text(JsonElement root, string name)
    {
        var value = Member(root, name);
        return value.ValueKind == JsonValueKind.String
            ? CanonicalJson.StringOf(value)
            : throw new FormatException($"'{name}' is not a text.");
    }

    private static bool Flag(JsonElement root, string name)
    {
        var value = Member(root, name);
        return value.ValueKind is JsonValueKind.True or JsonValueKind.False
            ? value.GetBoolean()
            : throw new FormatException($"'{name}' is not true or false.");
    }

    private static byte[] DataOf(JsonElement root)
    {
        var data = Member(root, "data");
        Require(data.ValueKind == JsonValueKind.Object, "'data' is not an object.");
        DraftData.Check(data, "data");
        var output = new ArrayBufferWriter<byte>();
        CanonicalJson.Write(data, output);
        return output.WrittenSpan.ToArray();
    }

    private static (string Chain, long Sequence) PlaceOf(string id)
    {
        var slash = id.LastIndexOf('/');
        return slash > 0 && long.TryParse(id[(slash + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out var sequence)
            ? (id[..slash], sequence)
            : throw new FormatException($"'{id}' is not a chain, a slash and a sequence.");
    }

    private static long Uptime(string text) =>
        long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var uptime)
            ? uptime
            : throw new FormatException($"'{text}' is not an uptime in nanoseconds.");

    private static DateTimeOffset Time(string text) =>
        DateTimeOffset.TryParseExact(text, TimeForm, CultureInfo.InvariantCulture, DateTimeStyles.None, out var time)
            ? time
            : throw new FormatException($"'{text}' is not an RFC 3339 time with seven fraction digits and an offset.");
}
