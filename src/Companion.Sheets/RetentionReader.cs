using Companion.Domain.Retention;
using Companion.Engine.Codec;
using Companion.Sheets.Files;

namespace Companion.Sheets;

/// <summary>Reads for how long the operator keeps personal data.</summary>
public static class RetentionReader
{
    /// <summary>Reads it from YAML text; one with faults is not given out.</summary>
    public static RetentionReading Read(string yaml)
    {
        var (policy, _, problems) = FileCheck.Read(yaml, SchemaCheck.Retention, json => new RetentionPolicy(
            json.Whole("names"), json.Whole("heard"), json.Whole("places"), json.Whole("alerts"), json.Whole("recordings")));
        return new(policy, problems);
    }

    /// <summary>Reads it from a file. A file that cannot be read is a problem too.</summary>
    public static RetentionReading ReadFile(string path)
    {
        var (text, problem) = FileCheck.Text(path);
        return text is null ? new(null, [problem!]) : Read(text);
    }
}

/// <summary>What reading it gave.</summary>
/// <param name="Policy">The policy, or null when there was any problem.</param>
/// <param name="Problems">What is wrong, in the order of the file's lines.</param>
public sealed record RetentionReading(RetentionPolicy? Policy, IReadOnlyList<SheetProblem> Problems);
