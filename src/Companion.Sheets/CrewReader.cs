using System.Collections.Immutable;
using System.Text.Json.Nodes;
using Companion.Engine.Codec;
using Companion.Sheets.Files;

namespace Companion.Sheets;

/// <summary>Reads the crew file.</summary>
public static class CrewReader
{
    /// <summary>Reads the crew from YAML text.</summary>
    public static CrewReading Read(string yaml)
    {
        var (crew, file, problems) = FileCheck.Read(
            yaml, SchemaCheck.Crew, json => new Crew(People(json, "technicians"), People(json, "secondpersons")));
        if (crew is null)
        {
            return new(null, problems);
        }

        // One person may stand in both lists, under one id; within a list an id stands once.
        var twice = Twice("technicians", crew.Technicians).Concat(Twice("secondpersons", crew.SecondPersons))
            .Select(one => new SheetProblem(
                file!.Lines.LineOf(one.Path), one.Path, $"There are two people with the id '{one.Id}'. Give one of them another id."))
            .ToList();
        return twice.Count == 0 ? new(crew, []) : new(null, twice);
    }

    /// <summary>Reads the crew from a file. A file that cannot be read is a problem too.</summary>
    public static CrewReading ReadFile(string path)
    {
        var (text, problem) = FileCheck.Text(path);
        return text is null ? new(null, [problem!]) : Read(text);
    }

    private static ImmutableArray<CrewMember> People(JsonObject json, string list) =>
        json.Each(list, each => new CrewMember(each.Text("id"), each.Text("name")));

    private static IEnumerable<(string Path, string Id)> Twice(string list, ImmutableArray<CrewMember> people) =>
        people.Index()
            .Where(each => people.Take(each.Index).Any(earlier => earlier.Id == each.Item.Id))
            .Select(each => ($"{list}[{each.Index}].id", each.Item.Id));
}
