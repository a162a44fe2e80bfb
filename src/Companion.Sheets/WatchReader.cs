using System.Text.Json.Nodes;
using Companion.Domain.CheckIn;
using Companion.Engine.Codec;
using Companion.Sheets.Files;

namespace Companion.Sheets;

/// <summary>Reads the operator's arrangement for watching over lone workers.</summary>
public static class WatchReader
{
    /// <summary>Reads it from YAML text; one with faults is not given out.</summary>
    public static WatchReading Read(string yaml)
    {
        var (reading, file, problems) = FileCheck.Read(yaml, SchemaCheck.Watch, json => new WatchReading(ReadPolicy(json), []) { SharesPosition = json.Flag("position") });
        if (reading is null)
        {
            return new(null, problems);
        }

        var faults = reading.Policy!.Faults().Select(fault => new SheetProblem(file!.Lines.LineOf("times"), "times", fault)).ToList();
        return faults.Count == 0 ? reading : new(null, faults);
    }

    /// <summary>Reads it from a file. A file that cannot be read is a problem too.</summary>
    public static WatchReading ReadFile(string path)
    {
        var (text, problem) = FileCheck.Text(path);
        return text is null ? new(null, [problem!]) : Read(text);
    }

    private static CheckInPolicy ReadPolicy(JsonObject json) => new(
        json.Each("times", ReadTimes),
        json.Whole("leadseconds"),
        json["quiet"] is null ? null : json.Name<CheckInPhrase>("quiet"));

    private static PhaseTimes ReadTimes(JsonObject json) =>
        new(json.Name<WorkPhase>("phase"), json.Whole("intervalseconds"), json.Whole("aloneseconds"), json.Whole("marginseconds"));
}

/// <summary>What reading it gave.</summary>
/// <param name="Policy">The arrangement, or null when there was any problem.</param>
/// <param name="Problems">What is wrong, in the order of the file's lines.</param>
public sealed record WatchReading(CheckInPolicy? Policy, IReadOnlyList<SheetProblem> Problems)
{
    /// <summary>True when a tablet may tell the watch room where it is.</summary>
    public bool SharesPosition { get; init; }
}
