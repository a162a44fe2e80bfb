using Companion.Contracts;
using Companion.Journal.Reading;
using Companion.Review;
using Companion.Review.Across;
using Companion.Watchroom.Access;
using Companion.Watchroom.Receiving;

namespace Companion.Watchroom.Web;

/// <summary>What every tablet sent, opened for people who look back. What came with other content for the same sequence is shown beside it.</summary>
/// <param name="devices">The devices.</param>
/// <param name="receiver">What they sent.</param>
/// <param name="checksEnds">True looks for damage of what is held and for a missing end by the tablet's own chain, too much to do for many jobs at once.</param>
internal sealed class ReceivedRecords(Devices devices, IJournalReceiver receiver, bool checksEnds) : IRecordSource
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

        var reading = new LooseReading();
        foreach (var line in receiver.Read(name.Device, name.Chain).Concat(receiver.ReadForks(name.Device, name.Chain)))
        {
            reading.Take(line, "A line that is held of this job");
        }

        if (reading.EntriesOf(name.Chain).Count == 0)
        {
            return null;
        }

        if (checksEnds)
        {
            CheckEnd(reading, name);
        }

        return RecordedJob.Of(name.Chain, reading.EntriesOf(name.Chain), reading.FaultsOf(name.Chain));
    }

    /// <inheritdoc/>
    public string StampOf(RecordName name) => devices.Find(name.Device) is null
        ? string.Empty
        : receiver.StampOf(name.Device, name.Chain) + (checksEnds ? $" {receiver.StampOf(name.Device, Chains.Tablet)}" : string.Empty);

    private void CheckEnd(LooseReading reading, RecordName name)
    {
        foreach (var line in receiver.Read(name.Device, Chains.Tablet).Where(line => LooseReading.MayName(line, name.Chain)))
        {
            reading.Take(line, "A line that is held of the tablet's own chain");
        }

        if (receiver.DamageOf(name.Device, name.Chain) is { } damage)
        {
            reading.Tell(damage.Words);
        }
    }
}
