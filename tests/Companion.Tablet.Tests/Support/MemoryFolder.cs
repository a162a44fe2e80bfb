namespace Companion.Tablet.Tests.Support;

/// <summary>A folder in memory where there is one: what is not about the disk must not fail because other work keeps the disk busy.</summary>
internal static class MemoryFolder
{
    private const string SharedMemory = "/dev/shm";

    /// <summary>A new one; the caller deletes it.</summary>
    public static string New(string prefix) => Directory.Exists(SharedMemory)
        ? Directory.CreateDirectory(Path.Combine(SharedMemory, $"{prefix}{Guid.NewGuid():N}")).FullName
        : Directory.CreateTempSubdirectory(prefix).FullName;
}
