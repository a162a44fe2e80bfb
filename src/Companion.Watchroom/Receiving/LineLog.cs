using Companion.Journal.Disk;
using Companion.Journal.Frames;

namespace Companion.Watchroom.Receiving;

/// <summary>
/// A file of received lines, byte for byte: one frame for each batch, synced. A torn end is an unacknowledged write: its bytes are put aside
/// and cut off. Anything else that does not fit is damage, which is left as it is. Used by one thread at a time; throws
/// <see cref="IOException"/>.
/// </summary>
internal sealed class LineLog(IDisk disk, string path)
{
    private const string TornSuffix = ".torn";
    private const string NewSuffix = ".new";
    private const byte LineFeed = (byte)'\n';

    private long end;
    private long lastFrame;
    private long torn;
    private bool isSettled;

    /// <summary>True when whole frames lie behind bytes that are none.</summary>
    public bool IsDamaged { get; private set; }

    /// <summary>Bytes behind the last whole frame that are none.</summary>
    public long Torn => torn;

    /// <summary>Bytes of the whole frames.</summary>
    public long Length => end;

    /// <summary>Reads all lines, in order, and finds the end.</summary>
    public void Load(Action<ReadOnlyMemory<byte>> take)
    {
        if (!disk.Exists(path))
        {
            isSettled = true;
            return;
        }

        using var file = disk.OpenRead(path);
        var reader = new FrameReader(file);
        foreach (var payload in reader.Whole())
        {
            lastFrame = reader.WholeEnd - payload.Length - FrameFile.HeaderLength;
            foreach (var line in EntryBatch.Split(payload))
            {
                take(line);
            }
        }

        end = reader.WholeEnd;
        torn = reader.RaggedLength;
        IsDamaged = torn > 0 && reader.Beyond().Any();
    }

    /// <summary>The lines as they are on the disk now; works beside a writer.</summary>
    public IEnumerable<ReadOnlyMemory<byte>> Lines()
    {
        if (!disk.Exists(path))
        {
            yield break;
        }

        using var file = disk.OpenRead(path);
        foreach (var line in new FrameReader(file).Whole().SelectMany(payload => EntryBatch.Split(payload)))
        {
            yield return line;
        }
    }

    /// <summary>
    /// Before anything is acknowledged or added: the torn end goes aside, and the last frame, whose sync may have failed before the program
    /// ended, is written and synced once more.
    /// </summary>
    public void Settle()
    {
        if (isSettled)
        {
            return;
        }

        if (torn > 0)
        {
            PutAside();
        }

        using (var file = FrameFile.OpenAt(disk, path, end))
        {
            if (torn > 0)
            {
                file.Trim();
            }

            if (lastFrame < end)
            {
                file.RewriteFrom(lastFrame);
            }
        }

        disk.SyncDirectory(Path.GetDirectoryName(path)!);
        (torn, isSettled) = (0, true);
    }

    /// <summary>Adds lines, all or none, durably.</summary>
    public void Append(IReadOnlyList<ReadOnlyMemory<byte>> lines)
    {
        var payload = Joined(lines);
        var isNew = end == 0;
        try
        {
            using var file = FrameFile.OpenAt(disk, path, end);
            file.Append(payload);
            if (isNew)
            {
                disk.SyncDirectory(Path.GetDirectoryName(path)!);
            }
        }
        catch
        {
            CutOff();
            throw;
        }

        (lastFrame, end) = (end, end + FrameFile.HeaderLength + payload.Length);
    }

    /// <summary>
    /// Writes every line anew as it is to be from now on, in place of the file, durably and whole or not at all. What was put aside as a torn
    /// end goes with the old lines: nobody was told that it is held.
    /// </summary>
    public void Replace(Func<ReadOnlyMemory<byte>, ReadOnlyMemory<byte>> change)
    {
        if (end == 0)
        {
            return;
        }

        Settle();
        var fresh = path + NewSuffix;
        using (var source = disk.OpenRead(path))
        {
            FrameFile.WriteNew(disk, fresh, new FrameReader(source).Whole().Select(payload => (ReadOnlyMemory<byte>)Joined([.. EntryBatch.Split(payload).Select(change)])));
        }

        disk.Rename(fresh, path);
        disk.Delete(path + TornSuffix);
        disk.SyncDirectory(Path.GetDirectoryName(path)!);
        using var written = disk.OpenRead(path);
        (lastFrame, end) = (written.Length, written.Length);
    }

    private static byte[] Joined(IReadOnlyList<ReadOnlyMemory<byte>> lines)
    {
        var payload = new byte[lines.Sum(line => line.Length + 1) - 1];
        var offset = 0;
        foreach (var line in lines)
        {
            line.Span.CopyTo(payload.AsSpan(offset));
            offset += line.Length;
            if (offset < payload.Length)
            {
                payload[offset++] = LineFeed;
            }
        }

        return payload;
    }

    /// <summary>What was written of a batch that is not acknowledged goes; where even that fails, the next opening does it.</summary>
    private void CutOff()
    {
        try
        {
            using var file = FrameFile.OpenAt(disk, path, end);
            file.Trim();
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            // The end that is known here has not moved: the next append writes over it.
        }
    }

    private void PutAside()
    {
        using var source = disk.OpenRead(path);
        var bytes = new byte[Math.Min(torn, FrameFile.LargestPayload)];
        _ = source.Read(end, bytes);
        var aside = path + TornSuffix;
        var length = 0L;
        if (disk.Exists(aside))
        {
            using var before = disk.OpenRead(aside);
            length = before.Length;
        }

        using var kept = FrameFile.OpenAt(disk, aside, length);
        kept.Append(bytes);
    }
}
