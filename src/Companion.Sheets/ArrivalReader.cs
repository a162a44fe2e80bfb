using System.Text.Json.Nodes;
using Companion.Domain.Arrival;
using Companion.Engine.Codec;
using Companion.Sheets.Files;

namespace Companion.Sheets;

/// <summary>Reads the operator's arrival list.</summary>
public static class ArrivalReader
{
    /// <summary>Reads a list from YAML text; a list that breaks <see cref="ArrivalRules"/> is not given out.</summary>
    public static ArrivalReading Read(string yaml)
    {
        var (list, file, problems) = FileCheck.Read(yaml, SchemaCheck.Arrival, ReadList);
        if (list is null)
        {
            return new(null, problems);
        }

        var faults = ArrivalRules.Faults(list).Select(fault => new SheetProblem(file!.Lines.LineOf(fault.Path), fault.Path, fault.Message)).ToList();
        return faults.Count == 0 ? new(list, []) : new(null, FileCheck.InOrder(faults));
    }

    /// <summary>Reads a list from a file. A file that cannot be read is a problem too.</summary>
    public static ArrivalReading ReadFile(string path)
    {
        var (text, problem) = FileCheck.Text(path);
        return text is null ? new(null, [problem!]) : Read(text);
    }

    private static ArrivalList ReadList(JsonObject json) =>
        new(json.Text("id"), json.Text("emergencynumber"), json.Whole("standoffcentimetres"), json.Each("items", ReadItem));

    private static ArrivalItem ReadItem(JsonObject json) => new(
        new(json.Text("id")), json.Name<Concern>("concern"), json.Text("name"), json.Text("say"), json.Name<Leads>("leads"), json.TextOrNull("then"));
}
