using Companion.Domain.Sheets;
using Companion.Engine.Codec;
using Companion.Sheets.Files;

namespace Companion.Sheets;

/// <summary>
/// Reads shutdown sheets: YAML, then the JSON Schema, then the rules that a schema cannot state, then the document beside the file. Nothing
/// is thrown for what stands in the file.
/// </summary>
public static class SheetReader
{
    /// <summary>Reads a sheet from YAML text. Whether its attachment exists is not looked at.</summary>
    public static SheetReading Read(string yaml) => Read(yaml, null, null);

    /// <summary>Reads a sheet from a file, with its attachment. A file that cannot be read is a problem too.</summary>
    /// <param name="path">The file.</param>
    /// <param name="today">Today, for a caution when the review date has passed; null leaves that out.</param>
    public static SheetReading ReadFile(string path, DateOnly? today = null)
    {
        var (text, problem) = FileCheck.Text(path);
        return text is null ? new(null, [problem!]) : Read(text, Path.GetDirectoryName(Path.GetFullPath(path)), today);
    }

    private static SheetReading Read(string yaml, string? folder, DateOnly? today)
    {
        var (sheet, file, problems) = FileCheck.Read(yaml, SchemaCheck.Sheet, SheetJson.Read);
        if (sheet is null)
        {
            return new(null, problems);
        }

        var faults = Placed(file!, [.. SheetRules.Faults(sheet), .. Attached(sheet, folder)]);
        return faults.Count > 0
            ? new(null, faults)
            : new(sheet, []) { Cautions = Placed(file!, SheetCautions.Of(sheet, today)) };
    }

    private static IEnumerable<SheetFault> Attached(Sheet sheet, string? folder) =>
        folder is not null && sheet.Source.Attachment is { } name && SheetAttachment.Fault(folder, name) is { } fault
            ? [new("source.attachment", fault)]
            : [];

    private static IReadOnlyList<SheetProblem> Placed(YamlFile file, IEnumerable<SheetFault> faults) =>
        FileCheck.InOrder(faults.Select(fault => new SheetProblem(file.Lines.LineOf(fault.Path), fault.Path, fault.Message)));
}
