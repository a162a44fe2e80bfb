using System.Text.Json;
using System.Text.Json.Nodes;

namespace Companion.Sheets.Files;

/// <summary>
/// Turns a schema's complaint into a sentence with a mend, using the descriptions that the schema gives for each place. The place in the
/// schema is found from the place in the file, because the checker's own schema locations are wrong inside lists (JsonSchema.Net 8.0.5).
/// </summary>
internal sealed class SchemaProse(JsonElement schema)
{
    private const int MostShown = 40;

    /// <summary>A key that the schema does not know.</summary>
    public string UnknownKey(SchemaPlace place)
    {
        var known = Find(place.Around(), schema) is { } around && around.TryGetProperty("properties", out var properties)
            ? string.Join(", ", properties.EnumerateObject().Select(property => property.Name))
            : "";
        return $"The key '{place.Steps[^1]}' is not known here. Correct it or take it out; known are {known}.";
    }

    /// <summary>Each key that must be there and is not.</summary>
    public IEnumerable<(string Path, string Message)> MissingKeys(SchemaPlace place, JsonNode root)
    {
        if (Find(place, schema) is not { } at || !at.TryGetProperty("required", out var required)
            || place.In(root) is not JsonObject present)
        {
            yield break;
        }

        foreach (var key in required.EnumerateArray().Select(item => item.GetString()!).Where(key => !present.ContainsKey(key)))
        {
            var missing = place.Inside(key);
            yield return (missing.Path, $"The key '{key}' is missing. Add it: {Describe(missing, schema)}.");
        }
    }

    /// <summary>A value that is not what it must be.</summary>
    /// <param name="place">Where.</param>
    /// <param name="root">The file.</param>
    /// <param name="strict">True when the part of the schema for real sheets complained.</param>
    public string Misfit(SchemaPlace place, JsonNode root, bool strict)
    {
        var from = strict && schema.TryGetProperty("else", out var branch) ? branch : schema;
        return $"{Show(place.In(root))} does not fit. Write {Describe(place, from)}.";
    }

    private static string Show(JsonNode? node)
    {
        var text = node switch
        {
            null => "An empty value",
            JsonObject => "A group of keys",
            JsonArray => "This list",
            JsonValue value when value.TryGetValue<string>(out var words) => $"\"{words}\"",
            _ => node.ToJsonString(),
        };
        return text.Length <= MostShown ? text : text[..MostShown] + "...\"";
    }

    private string Describe(SchemaPlace place, JsonElement from) =>
        Find(place, from) is { } at && at.TryGetProperty("description", out var text) ? text.GetString()! : "what the schema describes";

    private JsonElement? Find(SchemaPlace place, JsonElement from)
    {
        JsonElement? at = Resolved(from);
        foreach (var step in place.Steps)
        {
            at = at is not { } here ? null
                : SchemaPlace.IsIndex(step, out _) && here.TryGetProperty("items", out var items) ? Resolved(items)
                : here.TryGetProperty("properties", out var properties) && properties.TryGetProperty(step, out var property)
                    ? Resolved(property)
                : null;
        }

        return at;
    }

    // References in our schemas go to their own $defs only.
    private JsonElement Resolved(JsonElement at) =>
        at.TryGetProperty("$ref", out var reference)
            ? schema.GetProperty("$defs").GetProperty(reference.GetString()!["#/$defs/".Length..])
            : at;
}
