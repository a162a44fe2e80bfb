using System.Globalization;
using System.Text.Json;
using Companion.Contracts;
using Companion.Engine.Codec.Upcasting;

namespace Companion.Journal.Format;

/// <summary>
/// What can be told of an entry of a later version, taking nothing for granted but the names of the attributes: enough to show when what kind of
/// thing happened. Its hash is not checked, because a later version may be hashed in another way. Pure; any thread.
/// </summary>
internal static class NewerEntry
{
    /// <summary>The entry without its data; null when it is of no later version, or not even time, type and place can be read.</summary>
    public static JournalEntry? Read(ReadOnlyMemory<byte> line)
    {
        if (EntryCodec.ClaimedPlace(line) is not { } place)
        {
            return null;
        }

        using var document = CanonicalJson.Parse(line);
        var root = document.RootElement;
        return EntryFormat.VersionOf(Text(root, "dataschema")) is { } version and > EntryFormat.Newest
            && DateTimeOffset.TryParse(Text(root, "time"), CultureInfo.InvariantCulture, DateTimeStyles.None, out var time)
            && long.TryParse(Text(root, "uptime"), NumberStyles.None, CultureInfo.InvariantCulture, out var uptime)
            && Text(root, "type") is { Length: > 0 } type
                ? new JournalEntry(
                    place.Chain, place.Sequence, type, time, Text(root, "bootid"), uptime,
                    root.TryGetProperty("rehearsal", out var rehearsal) && rehearsal.ValueKind == JsonValueKind.True, "{}",
                    Text(root, "prevhash"), Text(root, "hash"), line, new Dictionary<string, SealedText>()) { Format = version }
                : null;
    }

    private static string Text(JsonElement root, string name) =>
        root.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? CanonicalJson.StringOf(value) : string.Empty;
}
