using System.Collections.Concurrent;
using System.Text.RegularExpressions;

namespace Companion.Simulation.Defects;

/// <summary>Puts every deliberate defect in, one at a time, and looks whether its world catches it; or looks for a world that does.</summary>
public static partial class DefectHunt
{
    private const string MostWorlds = "1500";
    private const string MostWatchedWorlds = "150";

    /// <summary>The verb's `--defects check` and `--defects hunt`. The last line says how many were caught of how many.</summary>
    /// <param name="hunt">True to look for another world where the listed one catches nothing.</param>
    /// <param name="output">Where the lines go.</param>
    /// <param name="each">2 for every second defect of the list only, and so on.</param>
    /// <param name="only">Only those with this text in their name, file or world; null for all.</param>
    public static int Run(bool hunt, TextWriter output, int each = 1, string? only = null)
    {
        var root = Root();
        var lines = new ConcurrentDictionary<int, string>();
        var defects = Defect.All(root).Where(defect => only is null || defect.Has(only)).Where((_, at) => at % each == 0).ToList();
        var missed = 0;
        Parallel.ForEach(defects.Select((defect, at) => (defect, at)), new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, one =>
        {
            var caught = hunt ? Hunt(one.defect, root) : Catch(one.defect, root);
            Interlocked.Add(ref missed, caught is null ? 1 : 0);
            lines[one.at] = $"{one.defect.Name}: {caught ?? "NOT CAUGHT"}";
        });
        foreach (var at in lines.Keys.Order())
        {
            output.WriteLine(lines[at]);
        }

        output.WriteLine($"{defects.Count - missed} of {defects.Count} defects caught");
        return missed == 0 ? 0 : 1;
    }

    /// <summary>What the defect's own world says; null when it notices nothing, or another invariant than the list says.</summary>
    public static string? Catch(Defect defect, string root)
    {
        using var mutant = Mutant.Of(defect, root);
        return Caught(defect, mutant);
    }

    /// <summary>The folder of the solution.</summary>
    public static string Root()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Companion.sln")))
            {
                return folder.FullName;
            }
        }

        throw new DirectoryNotFoundException("The simulator runs from its own source tree.");
    }

    private static string? Caught(Defect defect, Mutant mutant)
    {
        var (code, said) = mutant.Simulate("--replay", defect.World);
        var violation = said.Split('\n').FirstOrDefault(line => line.StartsWith($"{defect.Breaks}:", StringComparison.Ordinal));
        return code == 1 ? violation : null;
    }

    /// <summary>The listed world, or another one of its kind that catches the defect.</summary>
    private static string? Hunt(Defect defect, string root)
    {
        using var mutant = Mutant.Of(defect, root);
        if (defect.World.Contains(' ', StringComparison.Ordinal) && Caught(defect, mutant) is { } caught)
        {
            return caught;
        }

        var (code, said) = defect.IsWatched
            ? mutant.Simulate("--seed", "1", "--watched", MostWatchedWorlds, "--steps", "40", "--first", "yes")
            : mutant.Simulate("--seed", "1", "--runs", MostWorlds, "--first", "yes");
        return code == 1 && Replay().Match(said) is { Success: true } replay
            ? $"{said.Split('\n').First(line => Said().IsMatch(line))}\n  {replay.Groups[1].Value}"
            : null;
    }

    [GeneratedRegex("^(I[0-9]+|arrival|locks|tools|prefix):")]
    private static partial Regex Said();

    [GeneratedRegex("--replay \"((?:world|watched) [^\"]*)\"")]
    private static partial Regex Replay();
}
