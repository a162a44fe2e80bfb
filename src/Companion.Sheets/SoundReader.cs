using Companion.Domain.Sound;
using Companion.Engine.Codec;
using Companion.Sheets.Files;

namespace Companion.Sheets;

/// <summary>Reads whether the operator orders the sound of jobs to be recorded.</summary>
public static class SoundReader
{
    /// <summary>Reads it from YAML text; one with faults is not given out.</summary>
    public static SoundReading Read(string yaml)
    {
        var (order, _, problems) = FileCheck.Read(yaml, SchemaCheck.Sound, json => new Order(
            json.Flag("record"), new SoundPolicy(json.Whole("retentiondays"), json.Text("approvedby"))));
        return new(order is { Record: true } ? order.Policy : null, problems);
    }

    /// <summary>Reads it from a file. A file that cannot be read is a problem too.</summary>
    public static SoundReading ReadFile(string path)
    {
        var (text, problem) = FileCheck.Text(path);
        return text is null ? new(null, [problem!]) : Read(text);
    }

    private sealed record Order(bool Record, SoundPolicy Policy);
}

/// <summary>What reading it gave.</summary>
/// <param name="Policy">The order; null when nothing is to be recorded, or there was any problem.</param>
/// <param name="Problems">What is wrong, in the order of the file's lines.</param>
public sealed record SoundReading(SoundPolicy? Policy, IReadOnlyList<SheetProblem> Problems);
