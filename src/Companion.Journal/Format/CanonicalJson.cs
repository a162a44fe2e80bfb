using System.Buffers;
using System.Text;
using System.Text.Json;
using System.Text.Unicode;

namespace Companion.Journal.Format;

/// <summary>
/// Writes JSON in the form of RFC 8785: members in order of their UTF-16 code units, the shortest escapes, numbers as ECMAScript
/// prints them. Input outside I-JSON (RFC 7493: lone surrogates, doubled members, numbers beyond double precision) throws
/// <see cref="FormatException"/>. No state; callable from any thread.
/// </summary>
public static class CanonicalJson
{
    /// <summary>Deepest nesting taken; a pinned sheet needs about eight levels.</summary>
    public const int DeepestNesting = 32;

    private static readonly SearchValues<char> Escaped = SearchValues.Create([.. Enumerable.Range(0, ' ').Select(unit => (char)unit), '"', '\\']);

    private static readonly UTF8Encoding StrictUtf8 = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    private static readonly JsonDocumentOptions Strict = new()
    {
        AllowDuplicateProperties = false,
        AllowTrailingCommas = false,
        CommentHandling = JsonCommentHandling.Disallow,
        MaxDepth = DeepestNesting,
    };

    /// <summary>The canonical UTF-8 form of a JSON text.</summary>
    public static byte[] OfText(string json)
    {
        using var document = Parse(StrictBytes(json));
        var output = new ArrayBufferWriter<byte>();
        Write(document.RootElement, output);
        return output.WrittenSpan.ToArray();
    }

    /// <summary>Parses strictly. The caller disposes of the document.</summary>
    internal static JsonDocument Parse(ReadOnlyMemory<byte> utf8)
    {
        if (!Utf8.IsValid(utf8.Span))
        {
            throw new FormatException("Not strict JSON: the bytes are not UTF-8.");
        }

        try
        {
            return JsonDocument.Parse(utf8, Strict);
        }
        catch (Exception cause) when (cause is JsonException or InvalidOperationException)
        {
            // The second comes from looking for doubled members among names that hold half a surrogate pair.
            throw new FormatException($"Not strict JSON: {cause.Message}", cause);
        }
    }

    /// <summary>UTF-8 bytes of a text; a lone surrogate throws <see cref="FormatException"/>.</summary>
    internal static byte[] StrictBytes(string text)
    {
        try
        {
            return StrictUtf8.GetBytes(text);
        }
        catch (EncoderFallbackException cause)
        {
            throw HalfPair(cause);
        }
    }

    /// <summary>Writes one value.</summary>
    internal static void Write(JsonElement value, IBufferWriter<byte> output)
    {
        switch (value.ValueKind)
        {
            case JsonValueKind.Object:
                WriteObject(value, output);
                break;
            case JsonValueKind.Array:
                WriteArray(value, output);
                break;
            case JsonValueKind.String:
                WriteString(StringOf(value), output);
                break;
            case JsonValueKind.Number:
                output.Write(Encoding.ASCII.GetBytes(EcmaNumber.Format(value.GetDouble())));
                break;
            case JsonValueKind.True:
                output.Write("true"u8);
                break;
            case JsonValueKind.False:
                output.Write("false"u8);
                break;
            default:
                output.Write("null"u8);
                break;
        }
    }

    /// <summary>Writes a quoted, escaped string.</summary>
    internal static void WriteString(string text, IBufferWriter<byte> output)
    {
        if (!text.AsSpan().ContainsAny(Escaped))
        {
            output.Write("\""u8);
            Encode(text, output);
            output.Write("\""u8);
            return;
        }

        var escaped = new StringBuilder(text.Length + 2).Append('"');
        foreach (var unit in text)
        {
            _ = unit switch
            {
                '"' => escaped.Append("\\\""),
                '\\' => escaped.Append("\\\\"),
                '\b' => escaped.Append("\\b"),
                '\t' => escaped.Append("\\t"),
                '\n' => escaped.Append("\\n"),
                '\f' => escaped.Append("\\f"),
                '\r' => escaped.Append("\\r"),
                < ' ' => escaped.Append("\\u").Append(((int)unit).ToString("x4")),
                _ => escaped.Append(unit),
            };
        }

        Encode(escaped.Append('"').ToString(), output);
    }

    /// <summary>The text of a string value; an escaped lone surrogate throws <see cref="FormatException"/>.</summary>
    internal static string StringOf(JsonElement value)
    {
        try
        {
            return value.GetString()!;
        }
        catch (InvalidOperationException cause)
        {
            throw new FormatException("A string holds half of a surrogate pair, which I-JSON does not allow.", cause);
        }
    }

    /// <summary>Writes an object, leaving out one of its members where a name is given.</summary>
    internal static void WriteObject(JsonElement value, IBufferWriter<byte> output, string? without = null)
    {
        var members = new List<(string Name, JsonElement Value)>();
        foreach (var member in value.EnumerateObject())
        {
            if (NameOf(member) is var name && name != without)
            {
                members.Add((name, member.Value));
            }
        }

        members.Sort(static (left, right) => string.CompareOrdinal(left.Name, right.Name));
        output.Write("{"u8);
        for (var i = 0; i < members.Count; i++)
        {
            if (i > 0)
            {
                output.Write(","u8);
            }

            WriteString(members[i].Name, output);
            output.Write(":"u8);
            Write(members[i].Value, output);
        }

        output.Write("}"u8);
    }

    /// <summary>The name of a member; an escaped lone surrogate throws <see cref="FormatException"/>.</summary>
    internal static string NameOf(JsonProperty member)
    {
        try
        {
            return member.Name;
        }
        catch (InvalidOperationException cause)
        {
            throw new FormatException("A member name holds half of a surrogate pair, which I-JSON does not allow.", cause);
        }
    }

    private static void Encode(string text, IBufferWriter<byte> output)
    {
        try
        {
            StrictUtf8.GetBytes(text, output);
        }
        catch (EncoderFallbackException cause)
        {
            throw HalfPair(cause);
        }
    }

    private static FormatException HalfPair(EncoderFallbackException cause) => new("The text holds half of a surrogate pair, which has no UTF-8 form.", cause);

    private static void WriteArray(JsonElement value, IBufferWriter<byte> output)
    {
        output.Write("["u8);
        var first = true;
        foreach (var item in value.EnumerateArray())
        {
            if (!first)
            {
                output.Write(","u8);
            }

            first = false;
            Write(item, output);
        }

        output.Write("]"u8);
    }
}
