using System.Text.Json.Nodes;

namespace Companion.Sheets.Files;

/// <summary>The way that every kind of file goes: YAML, then its schema, then its record.</summary>
internal static class FileCheck
{
    /// <summary>Reads a file's text, or gives a problem when it cannot be read at all.</summary>
    public static (string? Text, SheetProblem? Problem) Text(string path)
    {
        try
        {
            // A character takes up to four bytes; anything longer is refused unread.
            return new FileInfo(path).Length > 4L * YamlLoader.MostCharacters
                ? (null, new(1, "", "The file is too long for what it should be. Check that it is the right one."))
                : (File.ReadAllText(path), null);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return (null, new(1, "", $"The file cannot be read ({fault.Message}). Check its name and that you may read it."));
        }
    }

    /// <summary>The record, or what is wrong.</summary>
    public static (T? Value, YamlFile? File, IReadOnlyList<SheetProblem> Problems) Read<T>(
        string yaml, SchemaCheck schema, Func<JsonObject, T> read)
        where T : class
    {
        var (file, problem) = YamlLoader.Load(yaml);
        if (file is null)
        {
            return (null, null, [problem!]);
        }

        var problems = schema.Problems(file);
        return problems.Count > 0 ? (null, file, InOrder(problems)) : (read(file.Root), file, []);
    }

    public static IReadOnlyList<SheetProblem> InOrder(IEnumerable<SheetProblem> problems) => [.. problems.OrderBy(problem => problem.Line)];
}
