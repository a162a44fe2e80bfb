using System.Text.Json;
using Companion.Contracts;

namespace Companion.Journal.Format;

/// <summary>Sealed texts as JSON: {"name":{"salt":"...","text":"..."}}, in the sealed file and in exports. Pure; any thread.</summary>
internal static class SealedJson
{
    /// <summary>The member of an exported line that holds them.</summary>
    public const string MemberName = "sealed";

    /// <summary>Writes the texts of one entry.</summary>
    public static void Write(Utf8JsonWriter writer, SealedTexts texts)
    {
        writer.WriteStartObject();
        foreach (var (name, text) in texts)
        {
            writer.WriteStartObject(name);
            writer.WriteString("salt", text.Salt);
            writer.WriteString("text", text.Text);
            writer.WriteEndObject();
        }

        writer.WriteEndObject();
    }

    /// <summary>Reads them back; throws <see cref="FormatException"/>.</summary>
    public static SealedTexts Read(JsonElement value)
    {
        try
        {
            return value.EnumerateObject().ToDictionary(
                member => member.Name,
                member => new SealedText(Text(member.Value, "salt"), Text(member.Value, "text")));
        }
        catch (Exception cause) when (cause is InvalidOperationException or KeyNotFoundException)
        {
            throw new FormatException("Sealed texts are an object of salts and texts by member name.", cause);
        }
    }

    private static string Text(JsonElement value, string name) =>
        value.GetProperty(name).GetString() ?? throw new FormatException($"The {name} of a sealed text is missing.");
}
