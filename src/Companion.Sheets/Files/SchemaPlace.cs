using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;

namespace Companion.Sheets.Files;

/// <summary>A place in a file: the steps that lead to it (a key, or the number of a list item).</summary>
/// <param name="Steps">Keys and numbers from the outside in.</param>
internal sealed record SchemaPlace(IReadOnlyList<string> Steps)
{
    /// <summary>The place as people read it: "waits[1].circuit".</summary>
    public string Path
    {
        get
        {
            var path = new StringBuilder();
            foreach (var step in Steps)
            {
                path.Append(IsIndex(step, out _) ? $"[{step}]" : path.Length == 0 ? step : $".{step}");
            }

            return path.ToString();
        }
    }

    /// <summary>The place that a JSON pointer (RFC 6901) names.</summary>
    public static SchemaPlace At(string pointer) =>
        new([.. pointer.Split('/').Skip(1).Select(Unescaped)]);

    public SchemaPlace Inside(string key) => new([.. Steps, key]);

    public SchemaPlace Around() => new([.. Steps.Take(Steps.Count - 1)]);

    /// <summary>What stands at the place, or null.</summary>
    public JsonNode? In(JsonNode root)
    {
        JsonNode? node = root;
        foreach (var step in Steps)
        {
            node = node switch
            {
                JsonObject inner => inner[step],
                JsonArray list when IsIndex(step, out var index) && index < list.Count => list[index],
                _ => null,
            };
        }

        return node;
    }

    /// <summary>True when the step is the number of a list item.</summary>
    public static bool IsIndex(string step, out int index) => int.TryParse(step, NumberStyles.None, CultureInfo.InvariantCulture, out index);

    private static string Unescaped(string step) =>
        step.Replace("~1", "/", StringComparison.Ordinal).Replace("~0", "~", StringComparison.Ordinal);
}
