using System.Buffers.Binary;
using Companion.Journal.Disk;

namespace Companion.Journal.Ledger;

/// <summary>
/// CRC-32C checksums of 8 KiB pages, kept in a file beside them. Each page has two places, for what it holds and for what is about
/// to be written, so that a page caught by a power cut before or after its write still fits one of them, and a torn one fits neither.
/// Used by one thread at a time.
/// </summary>
internal sealed class PageSums : IDisposable
{
    private const int RecordLength = 2 * sizeof(uint);

    private readonly IDiskFile file;
    private readonly List<(uint Current, uint Other, bool CurrentIsFirst)> records = [];

    /// <summary>Takes over the open file and reads it.</summary>
    public PageSums(IDiskFile file)
    {
        this.file = file;
        var bytes = new byte[file.Length / RecordLength * RecordLength];
        _ = file.Read(0, bytes);
        for (var offset = 0; offset < bytes.Length; offset += RecordLength)
        {
            records.Add((
                BinaryPrimitives.ReadUInt32LittleEndian(bytes.AsSpan(offset)),
                BinaryPrimitives.ReadUInt32LittleEndian(bytes.AsSpan(offset + sizeof(uint))),
                true));
        }
    }

    /// <summary>True when the page is one of the two that may be there. Remembers which one it is.</summary>
    public bool Fits(int page, ReadOnlySpan<byte> bytes)
    {
        var record = page < records.Count ? records[page] : default;
        if (record == default)
        {
            // Never written: LiteDB writes pages out of order, and the file is zeros where it has not been yet.
            return bytes.IndexOfAnyExcept((byte)0) < 0;
        }

        var sum = Crc32C.Of(bytes);
        if (sum == record.Current)
        {
            return true;
        }

        if (sum != record.Other)
        {
            return false;
        }

        records[page] = (record.Other, record.Current, !record.CurrentIsFirst);
        return true;
    }

    /// <summary>Makes the checksum of a page durable that is about to be written; the one it holds stays beside it.</summary>
    public void Announce(int page, ReadOnlySpan<byte> bytes)
    {
        while (records.Count <= page)
        {
            records.Add(default);
        }

        var record = records[page];
        var sum = Crc32C.Of(bytes);
        records[page] = (sum, record.Current, !record.CurrentIsFirst);
        Span<byte> place = stackalloc byte[sizeof(uint)];
        BinaryPrimitives.WriteUInt32LittleEndian(place, sum);
        file.Write(((long)page * RecordLength) + (records[page].CurrentIsFirst ? 0 : sizeof(uint)), place);
        file.Sync();
    }

    /// <inheritdoc/>
    public void Dispose() => file.Dispose();
}
