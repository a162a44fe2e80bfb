using Companion.Contracts;
using Companion.Journal.Proof;
using Companion.Review;
using Companion.Review.Across;
using Companion.Watchroom.Access;
using Companion.Watchroom.Receiving;

namespace Companion.Watchroom.Web;

/// <summary>What every tablet sent, opened for people who look back. What came with other content for the same sequence is shown beside it.</summary>
internal sealed class ReceivedRecords(Devices devices, IJournalReceiver receiver) : IStampedRecords
{
    /// <inheritdoc/>
    public IReadOnlyList<RecordName> Names() =>
    [
        .. devices.All().SelectMany(device => receiver.Chains(device.Name)
            .Where(held => held.Chain != Chains.Tablet)
            .Select(held => new RecordName(device.Name, held.Chain)))
            .OrderByDescending(name => name.Chain, StringComparer.Ordinal),
    ];

    /// <inheritdoc/>
    public RecordedJob? Open(RecordName name)
    {
        if (name.Chain == Chains.Tablet || devices.Find(name.Device) is null)
        {
            return null;
        }

        var lines = receiver.Read(name.Device, name.Chain).Concat(receiver.ReadForks(name.Device, name.Chain));
        var entries = lines.Select(Entry).OfType<JournalEntry>().ToList();
        return entries.Count == 0 ? null : RecordedJob.Of(name.Chain, entries);
    }

    /// <inheritdoc/>
    public string StampOf(RecordName name) => receiver.StampOf(name.Device, name.Chain);

    /// <summary>One damaged line must not hide the rest: it shows as missing.</summary>
    internal static JournalEntry? Entry(ReadOnlyMemory<byte> line)
    {
        try
        {
            return ExportLine.Parse(line);
        }
        catch (FormatException)
        {
            return null;
        }
    }
}
