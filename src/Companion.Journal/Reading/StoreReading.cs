using System.Globalization;
using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Frames;

namespace Companion.Journal.Reading;

/// <summary>Reads a store's witness as far as it can be, beside a running app, behind a place that does not fit too. Changes nothing. One thread a call.</summary>
public static class StoreReading
{
    /// <summary>The ids of the jobs in it, in order of their first entry.</summary>
    /// <exception cref="StoreFaultException">There is no store.</exception>
    public static IReadOnlyList<string> Jobs(string directory, IDisk? disk = null)
    {
        using var witness = Open(disk ?? new LocalDisk(), directory);
        return [.. Lines(new FrameReader(witness)).Select(ChainOf).OfType<string>().Where(chain => chain != Chains.Tablet).Distinct()];
    }

    /// <summary>A job, its own chain verified, with what the tablet's own chain says of its end, verified as far as that.</summary>
    /// <exception cref="StoreFaultException">There is no store.</exception>
    public static LooseReading Read(string directory, string job, IDisk? disk = null)
    {
        using var witness = Open(disk ?? new LocalDisk(), directory);
        var reader = new FrameReader(witness);
        var reading = new LooseReading();
        var proof = new JobProof(job);
        var number = 0L;
        foreach (var line in Lines(reader))
        {
            number++;
            var chain = ChainOf(line);
            proof.Take(line, chain);
            if (chain is null || chain == job || (chain == Chains.Tablet && LooseReading.MayName(line, job)))
            {
                reading.Take(line, string.Create(CultureInfo.InvariantCulture, $"Entry number {number} of this tablet's journal"));
            }
        }

        if (reader.IsRagged)
        {
            reading.Tell(string.Create(
                CultureInfo.InvariantCulture,
                $"{reader.RaggedLength} bytes of this tablet's journal, from {reader.WholeEnd} on, are no whole entries: it is damaged there, or the last write was cut off. Verify the store."));
        }

        foreach (var misfit in proof.Misfits)
        {
            reading.Tell(misfit);
        }

        return reading;
    }

    /// <summary>Another text whenever anything was recorded; found without reading.</summary>
    /// <exception cref="StoreFaultException">There is no store.</exception>
    public static string StampOf(string directory, IDisk? disk = null)
    {
        disk ??= new LocalDisk();
        using var witness = Open(disk, directory);
        return string.Create(CultureInfo.InvariantCulture, $"{StoreFiles.Current(disk, directory).Segment} {witness.Length}");
    }

    private static IEnumerable<ReadOnlyMemory<byte>> Lines(FrameReader reader)
    {
        foreach (var line in reader.Whole().SelectMany(payload => EntryBatch.Split(payload)))
        {
            yield return line;
        }

        if (reader.IsRagged)
        {
            foreach (var line in reader.Beyond().SelectMany(payload => EntryBatch.Split(payload)))
            {
                yield return line;
            }
        }
    }

    private static string? ChainOf(ReadOnlyMemory<byte> line) => EntryCodec.ClaimedPlace(line)?.Chain;

    private static IDiskFile Open(IDisk disk, string directory)
    {
        var files = StoreFiles.Current(disk, directory);
        return disk.Exists(files.Witness) ? disk.OpenRead(files.Witness) : throw new StoreFaultException($"There is no store in {directory}.");
    }
}
