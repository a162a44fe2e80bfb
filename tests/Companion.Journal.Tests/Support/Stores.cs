using Companion.Contracts;
using Companion.Journal.Disk;
using Companion.Simulation.Disk;

namespace Companion.Journal.Tests.Support;

/// <summary>Opens stores on a simulated disk.</summary>
public static class Stores
{
    public const string Folder = "/store";

    public static readonly Guid Tablet = Guid.Parse("5c0d8a1e-7d6f-4a52-9d55-0a7f4c9b1e21");

    public static Task<JournalStore> Open(IDisk disk) => JournalStore.OpenAsync(
        Folder, new StoreOptions(new FixedClock()) { Kind = StoreKind.Rehearsal, TabletId = Tablet, Disk = disk });

    /// <summary>As the app does: it asks for a kind, the store keeps the tablet's identity.</summary>
    public static Task<JournalStore> OpenAsTheAppDoes(IDisk disk) =>
        JournalStore.OpenAsync(Folder, new StoreOptions(new FixedClock()) { Kind = StoreKind.Rehearsal, Disk = disk });

    /// <summary>A closed store with a job of some entries, one of them with a personal text.</summary>
    public static async Task<SimulatedDisk> Small()
    {
        var disk = new SimulatedDisk();
        await using var store = await Open(disk);
        await Fill(store);
        return disk;
    }

    /// <summary>The same store, gone on with, as a killed process leaves it: the newest pages are in LiteDB's log alone.</summary>
    public static async Task<SimulatedDisk> Killed()
    {
        var disk = await Small();
        await using var store = await Open(disk);
        await Fill(store);
        return disk.Copy();
    }

    private static async Task Fill(JournalStore store)
    {
        await store.AppendAsync([Drafts.Of("job-1", "job.opened", """{"technician":"t1","policy":"secondperson"}""")]);
        await store.AppendAsync([Drafts.Heard("job-1", "gloves on"), Drafts.Of("job-1", "clock.anchored", """{"why":"tick"}""")]);
        await store.AppendAsync([Drafts.Of("job-1", "job.closed")]);
    }
}
