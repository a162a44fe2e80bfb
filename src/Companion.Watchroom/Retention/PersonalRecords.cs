using Companion.Contracts;
using Companion.Journal.Proof;
using Companion.Journal.Retention;

namespace Companion.Watchroom.Retention;

/// <summary>What the watch room holds about one person, received and its own, as export lines. Callable from any thread.</summary>
internal static class PersonalRecords
{
    /// <summary>The lines; empty when there is nothing.</summary>
    public static IReadOnlyList<ReadOnlyMemory<byte>> Of(WatchroomServices services, string name)
    {
        // Read twice rather than held in memory: the ids that stand for the name are known only after the first time.
        var extract = new PersonExtract(name, Entries(services));
        return [.. Entries(services).Select(extract.LineOf).OfType<ReadOnlyMemory<byte>>()];
    }

    private static IEnumerable<JournalEntry> Entries(WatchroomServices services) => services.Devices.All()
        .SelectMany(device => services.Receiver.Chains(device.Name).SelectMany(held => services.Receiver.Read(device.Name, held.Chain)))
        .Select(line => ExportLine.Parse(line))
        .Concat(services.Journal.ChainNames().SelectMany(chain => services.Journal.Read(chain)));
}
