using System.Buffers.Binary;
using Companion.Journal.Disk;

namespace Companion.Journal.Frames;

/// <summary>
/// Reads the frames of a file in order and never changes it. It stops at the first bytes that are no whole frame; what lies beyond
/// can be searched for frames that are whole. Used by one thread.
/// </summary>
public sealed class FrameReader(IDiskFile file, long from = 0)
{
    private readonly long length = file.Length;

    /// <summary>Where the last whole frame read so far ends.</summary>
    public long WholeEnd { get; private set; } = from;

    /// <summary>True when bytes follow the last whole frame: an interrupted write, or damage.</summary>
    public bool IsRagged => WholeEnd < length;

    /// <summary>Bytes behind the last whole frame.</summary>
    public long RaggedLength => length - WholeEnd;

    /// <summary>The payloads of the whole frames from the start, until one does not fit.</summary>
    public IEnumerable<byte[]> Whole()
    {
        while (TryRead(WholeEnd) is { } payload)
        {
            WholeEnd += FrameFile.HeaderLength + payload.Length;
            yield return payload;
        }
    }

    /// <summary>
    /// Frames found anywhere behind the first misfit, by trying every offset. A length and a checksum that fit by chance, one in
    /// four thousand million, would be caught by the entry hashes.
    /// </summary>
    public IEnumerable<byte[]> Beyond()
    {
        var offset = WholeEnd + 1;
        while (offset + FrameFile.HeaderLength < length)
        {
            if (TryRead(offset) is { } payload)
            {
                offset += FrameFile.HeaderLength + payload.Length;
                yield return payload;
            }
            else
            {
                offset++;
            }
        }
    }

    private byte[]? TryRead(long offset)
    {
        Span<byte> header = stackalloc byte[FrameFile.HeaderLength];
        if (file.Read(offset, header) < header.Length)
        {
            return null;
        }

        var size = BinaryPrimitives.ReadUInt32LittleEndian(header);
        if (size is 0 or > FrameFile.LargestPayload || offset + FrameFile.HeaderLength + size > length)
        {
            return null;
        }

        var payload = new byte[size];
        return file.Read(offset + FrameFile.HeaderLength, payload) == payload.Length
            && Crc32C.Of(payload) == BinaryPrimitives.ReadUInt32LittleEndian(header[sizeof(uint)..])
            ? payload
            : null;
    }
}
