using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;

namespace Companion.Sheets.Files;

/// <summary>Checks a file against one of the JSON Schemas (2020-12) in shared/schemas and says what is wrong in plain sentences.</summary>
internal sealed class SchemaCheck
{
    public static readonly SchemaCheck Sheet = new("shutdown-sheet.schema.json");
    public static readonly SchemaCheck Kit = new("kit.schema.json");
    public static readonly SchemaCheck Crew = new("crew.schema.json");
    public static readonly SchemaCheck Arrival = new("arrival.schema.json");
    public static readonly SchemaCheck Watch = new("watch.schema.json");
    public static readonly SchemaCheck Retention = new("retention.schema.json");
    public static readonly SchemaCheck Sound = new("sound.schema.json");
    public static readonly SchemaCheck Rehearsal = new("rehearsal.schema.json");

    private readonly EvaluationOptions options = new() { OutputFormat = OutputFormat.List, RequireFormatValidation = true };
    private readonly JsonSchema schema;
    private readonly SchemaProse prose;

    private SchemaCheck(string name)
    {
        using var stream = typeof(SchemaCheck).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The schema {name} is not built in.");
        var text = JsonDocument.Parse(stream).RootElement.Clone();
        schema = JsonSchema.Build(text);
        prose = new SchemaProse(text);
    }

    /// <summary>What is wrong with the file's form, one problem for each place.</summary>
    public IReadOnlyList<SheetProblem> Problems(YamlFile file)
    {
        var results = schema.Evaluate(JsonSerializer.SerializeToElement<JsonNode>(file.Root), options);
        if (results.IsValid)
        {
            return [];
        }

        var problems = new Dictionary<string, SheetProblem>();
        foreach (var detail in (results.Details ?? []).Where(Counts))
        {
            foreach (var (path, message) in Say(detail, file))
            {
                problems.TryAdd(path, new(file.Lines.LineOf(path), path, message));
            }
        }

        return [.. problems.Values];
    }

    // The condition of an if is only asked; that it does not hold is no fault.
    private static bool Counts(EvaluationResults detail) =>
        !detail.IsValid && detail.Errors is not null && !detail.EvaluationPath.ToString().Split('/').Contains("if");

    private IEnumerable<(string Path, string Message)> Say(EvaluationResults detail, YamlFile file)
    {
        var place = SchemaPlace.At(detail.InstanceLocation.ToString());
        var evaluated = detail.EvaluationPath.ToString();
        if (evaluated.EndsWith("/additionalProperties", StringComparison.Ordinal))
        {
            return [(place.Path, prose.UnknownKey(place))];
        }

        return detail.Errors!.ContainsKey("required")
            ? prose.MissingKeys(place, file.Root)
            : [(place.Path, prose.Misfit(place, file.Root, evaluated.StartsWith("/else", StringComparison.Ordinal)))];
    }
}
