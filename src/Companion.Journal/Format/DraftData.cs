using System.Buffers;
using System.Globalization;
using System.Text.Json;

namespace Companion.Journal.Format;

/// <summary>
/// Checks a draft's data against the journal's own narrower rules and brings it into canonical form: member names of a-z and 0-9,
/// whole numbers within +/-(2^53-1), everything fractional as text. Throws <see cref="FormatException"/> naming the member.
/// </summary>
internal static class DraftData
{
    private const long LargestInteger = (1L << 53) - 1;
    private static readonly SearchValues<char> NameUnits = SearchValues.Create("abcdefghijklmnopqrstuvwxyz0123456789");

    /// <summary>The canonical data object, with the hashes of personal texts put in under their member names.</summary>
    public static byte[] Canonical(string json, IEnumerable<KeyValuePair<string, string>> personalHashes)
    {
        using var document = CanonicalJson.Parse(CanonicalJson.StrictBytes(json));
        if (document.RootElement.ValueKind != JsonValueKind.Object)
        {
            throw new FormatException("The data of an entry is a JSON object.");
        }

        Check(document.RootElement, "data");
        var members = new SortedDictionary<string, byte[]>(StringComparer.Ordinal);
        foreach (var member in document.RootElement.EnumerateObject())
        {
            members.Add(member.Name, Bytes(member.Value));
        }

        foreach (var (name, hash) in personalHashes)
        {
            CheckName(name, "data");
            if (!members.TryAdd(name, JsonSerializer.SerializeToUtf8Bytes(hash)))
            {
                throw new FormatException($"'{name}' is both a member of the data and a personal text.");
            }
        }

        return Join(members);
    }

    /// <summary>Throws unless the value keeps the rules above, all the way down.</summary>
    public static void Check(JsonElement value, string path)
    {
        switch (value.ValueKind)
        {
            case JsonValueKind.Object:
                foreach (var member in value.EnumerateObject())
                {
                    var name = CanonicalJson.NameOf(member);
                    CheckName(name, path);
                    if (member.Value.ValueKind is JsonValueKind.Object or JsonValueKind.Array or JsonValueKind.Number)
                    {
                        Check(member.Value, $"{path}.{name}");
                    }
                }

                break;
            case JsonValueKind.Array:
                foreach (var item in value.EnumerateArray())
                {
                    Check(item, path);
                }

                break;
            case JsonValueKind.Number:
                CheckNumber(value.GetRawText(), path);
                break;
        }
    }

    private static void CheckName(string name, string path)
    {
        if (name.Length == 0 || name.AsSpan().ContainsAnyExcept(NameUnits))
        {
            throw new FormatException($"'{name}' in {path}: member names are a-z and 0-9.");
        }
    }

    private static void CheckNumber(string raw, string path)
    {
        if (!long.TryParse(raw, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number) || raw == "-0")
        {
            throw new FormatException($"{path} is {raw}: numbers in an entry are whole; write a fraction as text (\"12.0\").");
        }

        if (number is > LargestInteger or < -LargestInteger)
        {
            throw new FormatException($"{path} is {raw}: beyond 2^53-1, which not every reader keeps exactly; write it as text.");
        }
    }

    private static byte[] Bytes(JsonElement value)
    {
        var output = new ArrayBufferWriter<byte>();
        CanonicalJson.Write(value, output);
        return output.WrittenSpan.ToArray();
    }

    private static byte[] Join(SortedDictionary<string, byte[]> members)
    {
        var output = new ArrayBufferWriter<byte>();
        var separator = "{"u8;
        foreach (var (name, value) in members)
        {
            output.Write(separator);
            CanonicalJson.WriteString(name, output);
            output.Write(":"u8);
            output.Write(value);
            separator = ","u8;
        }

        output.Write(members.Count == 0 ? "{}"u8 : "}"u8);
        return output.WrittenSpan.ToArray();
    }
}
