using System.Collections.Immutable;
using Companion.Domain.Sheets;
using Companion.Sheets.Files;

namespace Companion.Sheets;

/// <summary>All sheets of a folder. A file with a problem gives no sheet, and hinders no other.</summary>
public sealed class SheetLibrary
{
    private SheetLibrary(ImmutableArray<Sheet> sheets, ImmutableDictionary<string, IReadOnlyList<SheetProblem>> problems)
    {
        Sheets = sheets;
        Problems = problems;
    }

    /// <summary>The sheets that may be used, by number.</summary>
    public ImmutableArray<Sheet> Sheets { get; }

    /// <summary>What is wrong, by file name; files without problems are left out.</summary>
    public ImmutableDictionary<string, IReadOnlyList<SheetProblem>> Problems { get; }

    /// <summary>The sheet with that number, or null.</summary>
    public Sheet? Find(int number) => Sheets.FirstOrDefault(sheet => sheet.Number == number);

    /// <summary>
    /// Reads every .yaml file of a folder. Sheets that share a number or an id are all left out: which one was meant cannot be guessed.
    /// </summary>
    public static SheetLibrary Load(string folder)
    {
        var problems = ImmutableDictionary.CreateBuilder<string, IReadOnlyList<SheetProblem>>();
        if (!Directory.Exists(folder))
        {
            problems[folder] = [new(1, "", "There is no such folder. Name the folder that holds the sheets.")];
            return new([], problems.ToImmutable());
        }

        var read = new List<(string File, Sheet Sheet)>();
        foreach (var path in Directory.EnumerateFiles(folder, "*.yaml").Order(StringComparer.Ordinal))
        {
            var reading = SheetReader.ReadFile(path);
            if (reading.Sheet is { } sheet)
            {
                read.Add((Path.GetFileName(path), sheet));
            }
            else
            {
                problems[Path.GetFileName(path)] = reading.Problems;
            }
        }

        var clashes = read.SelectMany(one => Clashes(one, read, folder)).ToLookup(clash => clash.File, clash => clash.Problem);
        foreach (var clash in clashes)
        {
            problems[clash.Key] = [.. clash];
        }

        var sound = read.Where(one => !clashes.Contains(one.File)).Select(one => one.Sheet).OrderBy(sheet => sheet.Number);
        return new([.. sound], problems.ToImmutable());
    }

    private static IEnumerable<(string File, SheetProblem Problem)> Clashes(
        (string File, Sheet Sheet) one, List<(string File, Sheet Sheet)> all, string folder)
    {
        foreach (var other in all.Where(other => other.File != one.File))
        {
            var (path, value) = other.Sheet.Number == one.Sheet.Number ? ("number", one.Sheet.Number.ToString())
                : other.Sheet.Id == one.Sheet.Id ? ("id", one.Sheet.Id)
                : ("", "");
            if (path.Length > 0)
            {
                var line = YamlLoader.Load(File.ReadAllText(Path.Combine(folder, one.File))).File?.Lines.LineOf(path) ?? 1;
                yield return (one.File, new(line, path, $"The {path} {value} is also used by {other.File}. "
                    + $"Give one of the two another {path}."));
            }
        }
    }
}
