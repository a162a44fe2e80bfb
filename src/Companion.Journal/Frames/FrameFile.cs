using System.Buffers.Binary;
using Companion.Journal.Disk;

namespace Companion.Journal.Frames;

/// <summary>
/// An append-only file of frames: length, CRC-32C of the bytes, bytes (both numbers 32 bits, little-endian). A frame is the unit of
/// durability: whole or not there. Used by one thread at a time; throws <see cref="IOException"/> as the disk does.
/// </summary>
public sealed class FrameFile : IDisposable
{
    /// <summary>Bytes before the payload of a frame.</summary>
    public const int HeaderLength = 8;

    /// <summary>Largest payload. A longer length in a header is a damaged header.</summary>
    public const int LargestPayload = 8 << 20;

    private readonly IDiskFile file;
    private long end;

    private FrameFile(IDiskFile file, long end)
    {
        this.file = file;
        this.end = end;
    }

    /// <summary>Where the next frame will begin. From any thread.</summary>
    public long End => Volatile.Read(ref end);

    /// <summary>Opens a file for appending after <paramref name="end"/>, the end of its last whole frame.</summary>
    public static FrameFile OpenAt(IDisk disk, string path, long end) => new(disk.OpenShared(path), end);

    /// <summary>Appends one frame and makes it durable.</summary>
    public void Append(ReadOnlySpan<byte> payload)
    {
        var frame = Frame(payload);
        file.Write(end, frame);
        file.Sync();
        Volatile.Write(ref end, end + frame.Length);
    }

    /// <summary>Writes the bytes from an offset to the end once more, as they are, and makes them durable.</summary>
    public void RewriteFrom(long offset)
    {
        var bytes = new byte[end - offset];
        _ = file.Read(offset, bytes);
        file.Write(offset, bytes);
        file.Sync();
    }

    /// <summary>Cuts off what lies behind the last whole frame, durably.</summary>
    public void Trim()
    {
        file.SetLength(end);
        file.Sync();
    }

    /// <inheritdoc/>
    public void Dispose() => file.Dispose();

    /// <summary>Writes a whole new file of frames, synced; the caller renames it into place.</summary>
    public static void WriteNew(IDisk disk, string path, IEnumerable<ReadOnlyMemory<byte>> payloads)
    {
        using var file = disk.Open(path);
        file.SetLength(0);
        var offset = 0L;
        foreach (var payload in payloads)
        {
            var frame = Frame(payload.Span);
            file.Write(offset, frame);
            offset += frame.Length;
        }

        file.Sync();
    }

    private static byte[] Frame(ReadOnlySpan<byte> payload)
    {
        if (payload.Length is 0 or > LargestPayload)
        {
            throw new ArgumentException($"A frame holds 1 to {LargestPayload} bytes, not {payload.Length}.");
        }

        var frame = new byte[HeaderLength + payload.Length];
        BinaryPrimitives.WriteUInt32LittleEndian(frame, (uint)payload.Length);
        BinaryPrimitives.WriteUInt32LittleEndian(frame.AsSpan(sizeof(uint)), Crc32C.Of(payload));
        payload.CopyTo(frame.AsSpan(HeaderLength));
        return frame;
    }
}
