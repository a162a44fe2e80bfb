using Companion.Journal.Disk;

namespace Companion.Journal.Opening;

/// <summary>Sets damaged files aside under names nobody else uses, so that what was found can be looked at later.</summary>
internal static class KeptFiles
{
    /// <summary>Renames those of the files that exist, all with one new prefix, durably; returns the prefix.</summary>
    public static string SetAside(IDisk disk, string directory, IEnumerable<string> paths)
    {
        var names = disk.Names(directory);
        var number = 1;
        while (names.Any(n => n.StartsWith(Prefix(number), StringComparison.Ordinal)))
        {
            number++;
        }

        foreach (var path in paths.Where(disk.Exists))
        {
            disk.Rename(path, Path.Combine(directory, Prefix(number) + Path.GetFileName(path)));
        }

        disk.SyncDirectory(directory);
        return Prefix(number);
    }

    private static string Prefix(int number) => $"kept-{number:D4}-";
}
