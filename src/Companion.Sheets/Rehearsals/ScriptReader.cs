using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Companion.Domain.Asking;
using Companion.Domain.Isolation;
using Companion.Engine.Codec;
using Companion.Sheets.Files;

namespace Companion.Sheets.Rehearsals;

/// <summary>Reads rehearsal scripts.</summary>
public static class ScriptReader
{
    /// <summary>Reads a script from a file: the script, or what is wrong with it.</summary>
    public static (RehearsalScript? Script, IReadOnlyList<SheetProblem> Problems) ReadFile(string path)
    {
        var (text, problem) = FileCheck.Text(path);
        return text is null ? (null, [problem!]) : Read(text);
    }

    /// <summary>Reads a script from YAML text.</summary>
    public static (RehearsalScript? Script, IReadOnlyList<SheetProblem> Problems) Read(string yaml)
    {
        var (script, _, problems) = FileCheck.Read(yaml, SchemaCheck.Rehearsal, ReadScript);
        return (script, problems);
    }

    private static RehearsalScript ReadScript(JsonObject json) => new()
    {
        Name = json.Text("name"),
        About = json.Text("about"),
        Sheet = json.Whole("sheet"),
        Arrival = json.Flag("arrival"),
        Watch = json.Flag("watch"),
        Kit = json.Text("kit"),
        Technician = json.Text("technician"),
        SecondPerson = json.TextOrNull("secondperson"),
        Policy = json["policy"] is null ? ExposurePolicy.SecondPerson : json.Name<ExposurePolicy>("policy"),
        Speaker = json.Text("speaker"),
        Rate = json["rate"] is null ? 150 : json.Whole("rate"),
        Seed = json["seed"] is null ? 1 : json.Whole("seed"),
        Readings = Texts(json["readings"]),
        Lines = json.Each("lines", ReadLine),
        End = json.Name<NeedKind>("end"),
        Counts = CountsOf(json.Object("counts")),
    };

    private static ScriptLine ReadLine(JsonObject json)
    {
        var kind = Enum.GetValues<LineKind>().First(candidate => json.ContainsKey(JsonReading.NameOf(candidate)));
        var value = json[JsonReading.NameOf(kind)];
        var seconds = kind is LineKind.Pass or LineKind.Sleep or LineKind.Restart ? json.Whole(JsonReading.NameOf(kind)) : 0;
        return new ScriptLine(
            kind,
            kind is LineKind.Follow or LineKind.Say or LineKind.Hold ? value!.GetValue<string>() : string.Empty,
            json.TextOrNull("step"),
            seconds,
            json.TextOrNull("refusal"),
            Texts(kind == LineKind.Readings ? value : null));
    }

    private static ImmutableDictionary<string, int> CountsOf(JsonObject counts) =>
        counts.ToImmutableDictionary(count => count.Key, count => counts.Whole(count.Key));

    private static ImmutableDictionary<string, string> Texts(JsonNode? node) => node is JsonObject pairs
        ? pairs.ToImmutableDictionary(pair => pair.Key, pair => pair.Value!.GetValue<string>())
        : ImmutableDictionary<string, string>.Empty;
}
