using Companion.Contracts;
using Companion.Journal.Disk;
using Companion.Journal.Frames;
using Companion.Journal.Ledger;

namespace Companion.Journal.Opening;

/// <summary>Puts entries of the witness into LiteDB that it lacks, in order. Used by one thread.</summary>
internal sealed class RollForward(
    IDisk disk, StoreFiles files, LedgerStore ledger, IReadOnlyDictionary<string, SealedTexts> texts)
{
    /// <summary>Rows of one transaction: few enough for memory, many enough that a rebuild is not one sync an entry.</summary>
    private const int RowsAtOnce = 1000;

    /// <summary>Inserts everything after an arrival number.</summary>
    public void From(long arrival)
    {
        if (!disk.Exists(files.Witness))
        {
            return;
        }

        using var file = disk.OpenRead(files.Witness);
        var missing = new FrameReader(file).Whole()
            .SelectMany(payload => EntryBatch.Split(payload))
            .Select((bytes, index) => (Bytes: bytes, Arrival: index + 1L))
            .Where(e => e.Arrival > arrival)
            .Select(e => new LedgerRow(e.Arrival, WithTexts(Format.EntryCodec.Parse(e.Bytes))));
        foreach (var rows in missing.Chunk(RowsAtOnce))
        {
            ledger.Insert(rows);
            ledger.Checkpoint(always: false);
        }
    }

    private JournalEntry WithTexts(JournalEntry entry) =>
        texts.TryGetValue(entry.Hash, out var found) ? entry with { Sealed = found } : entry;
}
