using System.Buffers.Binary;
using Companion.Journal.Disk;

namespace Companion.Journal.Ledger;

/// <summary>
/// CRC-32C checksums of 8 KiB pages, kept in a file beside them. Each page has two places, for what it holds and for what is about
/// to be written, so that a page caught by a power cut before or after its write still fits one of them, and a torn one fits neither.
/// The first record names the lowest page of the last write, so that a torn page of it is told from damage. Used by one thread at a time.
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

        // The last record may end after its first half.
        var bytes = new byte[(file.Length + RecordLength - 1) / RecordLength * RecordLength];
        _ = file.Read(0, bytes);
        for (var offset = RecordLength; offset < bytes.Length; offset += RecordLength)
        {
            records.Add((
                BinaryPrimitives.ReadUInt32LittleEndian(bytes.AsSpan(offset)),
                BinaryPrimitives.ReadUInt32LittleEndian(bytes.AsSpan(offset + sizeof(uint))),
                true));
        }

        LastWriteFrom = bytes.Length == 0 ? 0 : (int)BinaryPrimitives.ReadUInt32LittleEndian(bytes);
    }

    /// <summary>The lowest page of the last write announced.</summary>
    public int LastWriteFrom { get; private set; }

    /// <summary>Pages up to the last that was ever announced.</summary>
    public int Count => records.FindLastIndex(r => (r.Current | r.Other) != 0) + 1;

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

    /// <summary>Makes the checksums of pages durable that are about to be written; those they hold stay beside them.</summary>
    public void Announce(SortedDictionary<int, byte[]> pages)
    {
        Span<byte> place = stackalloc byte[sizeof(uint)];
        LastWriteFrom = pages.Keys.First();
        BinaryPrimitives.WriteUInt32LittleEndian(place, (uint)LastWriteFrom);
        file.Write(0, place);
        foreach (var (page, bytes) in pages)
        {
            while (records.Count <= page)
            {
                records.Add(default);
            }

            var record = records[page];
            records[page] = (Crc32C.Of(bytes), record.Current, !record.CurrentIsFirst);
            BinaryPrimitives.WriteUInt32LittleEndian(place, records[page].Current);
            file.Write(((page + 1L) * RecordLength) + (records[page].CurrentIsFirst ? 0 : sizeof(uint)), place);
        }

        file.Sync();
    }

    /// <inheritdoc/>
    public void Dispose() => file.Dispose();
}
