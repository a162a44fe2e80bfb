using Companion.Simulation.Disk;

namespace Companion.Simulation.Watched;

/// <summary>A copy of all that a tablet keeps, made while no job was open.</summary>
/// <param name="Disk">Its journal.</param>
/// <param name="Files">The files of its uplink by path.</param>
/// <param name="Lengths">How many entries each chain had.</param>
/// <param name="Acknowledged">How many entries of jobs had been acknowledged.</param>
internal sealed record StoreCopy(SimulatedDisk Disk, IReadOnlyDictionary<string, byte[]> Files, IReadOnlyDictionary<string, int> Lengths, int Acknowledged)
{
    /// <summary>Copies the files of a folder.</summary>
    public static IReadOnlyDictionary<string, byte[]> FilesOf(string folder) => Directory.EnumerateFiles(folder).ToDictionary(path => path, File.ReadAllBytes);

    /// <summary>Puts the files back; later ones go.</summary>
    public void PutBackFiles(string folder)
    {
        foreach (var later in Directory.EnumerateFiles(folder).Where(path => !Files.ContainsKey(path)))
        {
            File.Delete(later);
        }

        foreach (var (path, bytes) in Files)
        {
            File.WriteAllBytes(path, bytes);
        }
    }
}
