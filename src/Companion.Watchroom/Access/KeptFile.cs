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

    /// <summary>What the file holds now. One that was broken by hand changes nothing while what it held before is known.</summary>
    public T Read()
    {
        lock (gate)
        {
            var now = StampNow();
            return known is null || now != stamp ? Keep(Load(otherwise: known), now) : known;
        }
    }

    /// <summary>
    /// Reads, changes and writes it, alone; durable when this returns. Nothing is written when nothing changed, nor over a file that cannot
    /// be read.
    /// </summary>
    public TResult Change<TResult>(Func<T, (T Next, TResult Result)> change)
    {
        lock (gate)
        {
            using var alone = TakeLock();
            var before = Load(otherwise: null);
            var (next, result) = change(before);
            if (!ReferenceEquals(next, before))
            {
                Write(next);
            }

            Keep(next, StampNow());
            return result;
        }
    }

    private (DateTime Written, long Length) StampNow()
    {
        var file = new FileInfo(path);
        return file.Exists ? (file.LastWriteTimeUtc, file.Length) : default;
    }

    private T Keep(T what, (DateTime Written, long Length) at)
    {
        (known, stamp) = (what, at);
        return what;
    }

    private T Load(T? otherwise)
    {
        try
        {
            return File.Exists(path) ? JsonSerializer.Deserialize<T>(File.ReadAllBytes(path), Json) ?? empty : empty;
        }
        catch (JsonException fault)
        {
            return otherwise ?? throw new IOException($"{path} cannot be read: {fault.Message} Mend it, or put back a copy.", fault);
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
