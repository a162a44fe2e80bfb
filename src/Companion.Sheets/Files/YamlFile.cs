using System.Text.Json.Nodes;

namespace Companion.Sheets.Files;

/// <summary>A YAML file as JSON, with the line on which each of its paths stands.</summary>
/// <param name="Root">The file's content.</param>
/// <param name="Lines">Line by path.</param>
internal sealed record YamlFile(JsonObject Root, LineMap Lines);
