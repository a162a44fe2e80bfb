using System.Diagnostics;
using System.Globalization;

namespace Companion.Tablet.Tests.Support;

/// <summary>Signals to processes, by their ids.</summary>
internal static class Signals
{
    /// <summary>A process and all that it started.</summary>
    public static IReadOnlyList<int> TreeOf(int process)
    {
        var parents = Directory.EnumerateDirectories("/proc").Select(Path.GetFileName)
            .Where(name => int.TryParse(name, out _)).Select(name => int.Parse(name!, CultureInfo.InvariantCulture))
            .Select(id => (Id: id, Parent: ParentOf(id))).ToLookup(pair => pair.Parent, pair => pair.Id);
        List<int> tree = [process];
        for (var at = 0; at < tree.Count; at++)
        {
            tree.AddRange(parents[tree[at]]);
        }

        return tree;
    }

    public static void Send(string signal, params IReadOnlyList<int> processes)
    {
        using var kill = Process.Start("kill", [$"-{signal}", .. processes.Select(id => id.ToString(CultureInfo.InvariantCulture))]);
        kill.WaitForExit();
    }

    private static int ParentOf(int process)
    {
        try
        {
            // The command's name, which may hold blanks, stands in brackets before the state and the parent.
            var stat = File.ReadAllText($"/proc/{process}/stat");
            return int.Parse(stat[(stat.LastIndexOf(')') + 2)..].Split(' ')[1], CultureInfo.InvariantCulture);
        }
        catch (IOException)
        {
            return 0;
        }
    }
}
