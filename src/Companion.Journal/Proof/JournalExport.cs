using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Frames;

namespace Companion.Journal.Proof;

/// <summary>
/// Writes a store as NDJSON: one entry in canonical form a line, chains one after another, the tablet's first. It reads the witness
/// only, changes nothing, and works while the store is open. One thread a call.
/// </summary>
public static class JournalExport
{
    /// <summary>Writes all chains or one; returns the number of entries.</summary>
    /// <param name="directory">The store.</param>
    /// <param name="output">Where the lines go.</param>
    /// <param name="chain">A job's id; null for all chains.</param>
    /// <param name="includeSealed">True adds personal texts in a `sealed` member, outside the hash.</param>
    /// <param name="disk">The file system; null for the local one.</param>
    /// <exception cref="StoreFaultException">There is no store, or an entry cannot be attributed to a chain.</exception>
    public static long Write(string directory, Stream output, string? chain = null, bool includeSealed = false, IDisk? disk = null)
    {
        disk ??= new LocalDisk();
        var files = StoreFiles.Current(disk, directory);
        if (!disk.Exists(files.Witness))
        {
            throw new StoreFaultException($"There is no store in {directory}.");
        }

        using var witness = disk.OpenRead(files.Witness);
        var places = PlacesByChain(new FrameReader(witness), directory);
        var texts = new Dictionary<string, SealedTexts>();
        if (includeSealed)
        {
            _ = SealedFile.Read(disk, files.Sealed, texts);
        }

        var count = 0L;
        foreach (var (_, entries) in places.Where(p => chain is null || p.Chain == chain))
        {
            foreach (var (offset, length) in entries)
            {
                var bytes = new byte[length];
                _ = witness.Read(offset, bytes);
                output.Write((texts.Count == 0 ? bytes : WithTexts(bytes, texts)).Span);
                output.WriteByte((byte)'\n');
                count++;
            }
        }

        return count;
    }

    private static List<(string Chain, List<(long Offset, int Length)> Entries)> PlacesByChain(FrameReader reader, string directory)
    {
        var places = new List<(string Chain, List<(long Offset, int Length)> Entries)>();
        var known = new Dictionary<string, List<(long Offset, int Length)>>();
        foreach (var payload in reader.Whole())
        {
            var offset = reader.WholeEnd - payload.Length;
            foreach (var bytes in EntryBatch.Split(payload))
            {
                var (chain, _) = EntryCodec.ClaimedPlace(bytes)
                    ?? throw new StoreFaultException($"An entry of {directory} cannot be read; verify the store.");
                if (!known.TryGetValue(chain, out var entries))
                {
                    known.Add(chain, entries = []);
                    places.Insert(chain == Chains.Tablet ? 0 : places.Count, (chain, entries));
                }

                entries.Add((offset, bytes.Length));
                offset += bytes.Length + 1;
            }
        }

        return places;
    }

    private static ReadOnlyMemory<byte> WithTexts(byte[] bytes, Dictionary<string, SealedTexts> texts) =>
        texts.TryGetValue(EntryCodec.Parse(bytes).Hash, out var found) ? ExportLine.Of(bytes, found) : bytes;
}
