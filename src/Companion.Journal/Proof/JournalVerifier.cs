using Companion.Journal.Disk;

namespace Companion.Journal.Proof;

/// <summary>
/// Checks a store or an exported file without changing either: every hash, every link, the signed heads, and for a store also
/// LiteDB's pages and content, on a copy in memory. One thread a call.
/// </summary>
public static class JournalVerifier
{
    /// <summary>Checks a store's folder or an NDJSON file. A path that is neither throws <see cref="FileNotFoundException"/>.</summary>
    /// <param name="path">The folder or the file.</param>
    /// <param name="disk">The file system; null for the local one.</param>
    /// <param name="proof">A watch room's proof of a job in the file; of no use with a folder.</param>
    public static VerifyReport Verify(string path, IDisk? disk = null, OutsideProof? proof = null)
    {
        disk ??= new LocalDisk();
        var files = StoreFiles.Current(disk, path);
        if (disk.Exists(files.Witness) || disk.Exists(files.Data) || disk.Exists(files.Lock) || disk.Exists(files.Key))
        {
            return new StoreVerification(disk, files).Run();
        }

        if (!disk.Exists(path))
        {
            throw new FileNotFoundException($"There is no store and no file at {path}.", path);
        }

        return ExportVerification.Run(disk, path, proof);
    }
}
