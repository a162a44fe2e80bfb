namespace Companion.Sheets;

/// <summary>Something wrong in a file, with what to do about it.</summary>
/// <param name="Line">The line, from 1; that of the nearest thing around when what is wrong is missing.</param>
/// <param name="Path">Where in the file's structure: "waits[1].circuit"; empty for the whole file.</param>
/// <param name="Message">What is wrong and how to mend it, in a sentence or two.</param>
public sealed record SheetProblem(int Line, string Path, string Message)
{
    /// <summary>One line of text for a terminal.</summary>
    public override string ToString() => Path.Length == 0 ? $"line {Line}: {Message}" : $"line {Line}, {Path}: {Message}";
}
