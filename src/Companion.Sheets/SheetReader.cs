using Companion.Domain.Sheets;
using Companion.Engine.Codec;
using Companion.Sheets.Files;

namespace Companion.Sheets;

/// <summary>
/// Reads shutdown sheets: YAML, then the JSON Schema, then the rules that a schema cannot state. Nothing is thrown for what stands in the
/// file.
/// </summary>
public static class SheetReader
{
    /// <summary>Reads a sheet from YAML text.</summary>
    public static SheetReading Read(string yaml)
    {
        var (sheet, file, problems) = FileCheck.Read(yaml, SchemaCheck.Sheet, SheetJson.Read);
        if (sheet is null)
        {
            return new(null, problems);
        }

        var faults = SheetRules.Faults(sheet);
        return faults.Count == 0
            ? new(sheet, [])
            : new(null, FileCheck.InOrder(faults.Select(fault => new SheetProblem(file!.Lines.LineOf(fault.Path), fault.Path, fault.Message))));
    }

    /// <summary>Reads a sheet from a file. A file that cannot be read is a problem too.</summary>
    public static SheetReading ReadFile(string path)
    {
        var (text, problem) = FileCheck.Text(path);
        return text is null ? new(null, [problem!]) : Read(text);
    }
}
