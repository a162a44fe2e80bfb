using System.Text.Json.Nodes;
using Companion.Domain.Electrical;
using Companion.Domain.Kit;
using Companion.Engine.Codec;
using Companion.Sheets.Files;

namespace Companion.Sheets;

/// <summary>Reads kits. Whether an item may be used is not judged here but against a sheet and a day, by <see cref="KitRules"/>.</summary>
public static class KitReader
{
    /// <summary>Reads a kit from YAML text.</summary>
    public static KitReading Read(string yaml)
    {
        var (kit, file, problems) = FileCheck.Read(yaml, SchemaCheck.Kit, ReadKit);
        if (kit is null)
        {
            return new(null, problems);
        }

        var twice = kit.Items.Index()
            .Where(each => kit.Items.Take(each.Index).Any(earlier => earlier.Id == each.Item.Id))
            .Select(each => Twice(file!, $"items[{each.Index}].id", each.Item.Id.Value))
            .ToList();
        return twice.Count == 0 ? new(kit, []) : new(null, twice);
    }

    /// <summary>Reads a kit from a file. A file that cannot be read is a problem too.</summary>
    public static KitReading ReadFile(string path)
    {
        var (text, problem) = FileCheck.Text(path);
        return text is null ? new(null, [problem!]) : Read(text);
    }

    private static SheetProblem Twice(YamlFile file, string path, string id) =>
        new(file.Lines.LineOf(path), path, $"There are two items with the id '{id}'. Give one of them another id.");

    private static KitList ReadKit(JsonObject json) => new(json.Text("id"), json.Text("name"), json.Each("items", ReadItem));

    private static KitItem ReadItem(JsonObject json) => new()
    {
        Id = new(json.Text("id")),
        Kind = json.Name<KitKind>("kind"),
        Name = json.Text("name"),
        Serial = json.TextOrNull("serial"),
        Class = GloveClass.Find(json.TextOrNull("class")),
        RatedAc = json.VoltageOrNull("ratedac"),
        RatedDc = json.VoltageOrNull("rateddc"),
        Tested = json.DayOrNull("tested"),
        FirstIssue = json.DayOrNull("firstissue"),
        Due = json.DayOrNull("due"),
        ReadsToDc = json.VoltageOrNull("readstodc"),
        ReadsToAc = json.VoltageOrNull("readstoac"),
        LowestDc = json.VoltageOrNull("lowestdc"),
        LowestAc = json.VoltageOrNull("lowestac"),
        Proves = json.Each("proves", each => new ProvingRange(
            each.Name<VoltageKind>("kind"), each.Voltage("showsfrom"), each.Voltage("showsto"), each.Voltage("coversto"))),
    };
}
