using System.Text.Json;
using Companion.Journal.Disk;

namespace Companion.Watchroom.Access;

/// <summary>
/// A small JSON file that only its owner may read, replaced whole and durably. The service and the command line share it: a change by the
/// other is seen at the next reading, and only one of them changes it at a time. Callable from any thread.
/// </summary>
internal sealed class KeptFile<T>(string path, T empty)
    where T : class
{
    private const int LockAttempts = 100;
    private static readonly TimeSpan BetweenAttempts = TimeSpan.FromMilliseconds(50);
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web) { WriteIndented = true };
    private readonly LocalDisk disk = new();
    private readonly Lock gate = new();
    private T? known;
    private (DateTime Written, long Length) stamp;

    /// <summary>What the file holds now.</summary>
    public T Read()
    {
        lock (gate)
        {
            var file = new FileInfo(path);
            var now = file.Exists ? (file.LastWriteTimeUtc, file.Length) : default;
            if (known is null || now != stamp)
            {
                known = file.Exists ? JsonSerializer.Deserialize<T>(File.ReadAllBytes(path), Json) ?? empty : empty;
                stamp = now;
            }

            return known;
        }
    }

    /// <summary>Reads, changes and writes it, alone; durable when this returns. Nothing is written when nothing changed.</summary>
    public TResult Change<TResult>(Func<T, (T Next, TResult Result)> change)
    {
        lock (gate)
        {
            using var alone = TakeLock();
            known = null;
            var before = Read();
            var (next, result) = change(before);
            if (!ReferenceEquals(next, before))
            {
                Write(next);
            }

            return result;
        }
    }

    private void Write(T next)
    {
        var fresh = path + ".new";
        disk.Delete(fresh);
        using (var file = disk.CreatePrivate(fresh))
        {
            file.Write(0, JsonSerializer.SerializeToUtf8Bytes(next, Json));
            file.Sync();
        }

        disk.Rename(fresh, path);
        disk.SyncDirectory(Path.GetDirectoryName(path)!);
        known = null;
        Read();
    }

    private IDisposable TakeLock()
    {
        for (var attempt = 1; ; attempt++)
        {
            try
            {
                return disk.Lock(path + ".lock");
            }
            catch (IOException) when (attempt < LockAttempts)
            {
                // The other process holds it for the length of one write.
                Thread.Sleep(BetweenAttempts);
            }
        }
    }
}
