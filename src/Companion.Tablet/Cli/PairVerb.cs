using Companion.Contracts;
using Companion.Journal;
using Companion.Tablet.Clocks;
using Companion.Tablet.Linking;
using Companion.Uplink;

namespace Companion.Tablet.Cli;

/// <summary>pair --watchroom ADDRESS --code CODE [--certificate SHA256] [--name NAME] [--store DIR]: makes this tablet known to its watch room.</summary>
public static class PairVerb
{
    /// <summary>0 when paired.</summary>
    public static async Task<int> RunAsync(Options options)
    {
        options.Only("watchroom", "code", "certificate", "name", "store");
        if (!Uri.TryCreate(options.Required("watchroom"), UriKind.Absolute, out var address))
        {
            throw new UsageException("--watchroom is an address like https://watch.example:8443.");
        }

        var store = options["store"] ?? Places.Store;
        await using var journal = await JournalStore.OpenAsync(store, new StoreOptions(new TabletClock()) { Kind = StoreKind.Real }).ConfigureAwait(false);
        var parts = WatchroomLiaison.Parts(store, new JournalOutbox(journal), () => throw new InvalidOperationException("Pairing sends no beat."));
        var trouble = await Pairing.PairAsync(
            parts, address, options["certificate"], options.Required("code"), journal.TabletId, options["name"] ?? Environment.MachineName).ConfigureAwait(false);
        if (trouble is not null)
        {
            Console.Error.WriteLine($"Not paired. {trouble}");
            return 1;
        }

        Console.WriteLine($"Paired with {address} as {PairedWatchroom.Read(parts.WatchroomFile)!.Device}. Start the app again.");
        return 0;
    }
}
