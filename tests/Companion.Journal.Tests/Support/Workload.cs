using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Disk;
using Companion.Journal.Proof;
using Companion.Simulation.Disk;

namespace Companion.Journal.Tests.Support;

/// <summary>
/// What a store goes through between faults: opening, appending, personal texts, heads, erasing, closing, twice over. It remembers
/// what was acknowledged and holds a store found later against it.
/// </summary>
public sealed class Workload
{
    private const string Phrase = "ferrand says gloves on";
    private const string Kept = "marked and kept";

    // More than one page, so that a commit can tear between pages.
    private static readonly string LargeSheet = $$"""{"sheet":"{{new string('s', 20_000)}}"}""";

    private readonly List<JournalEntry> acknowledged = [];
    private readonly HashSet<string> erased = [];
    private readonly HashSet<string> erasing = [];

    /// <summary>Entries acknowledged so far.</summary>
    public int Acknowledged => acknowledged.Count;

    /// <summary>Works until the disk fails; returns the fault the technician would hear of.</summary>
    public async Task<StoreFaultException?> Run(IDisk disk, int sessions = 2)
    {
        try
        {
            for (var session = 0; session < sessions; session++)
            {
                await using var store = await Stores.Open(disk);
                await Session(store);
            }

            return null;
        }
        catch (StoreFaultException fault)
        {
            return fault;
        }
    }

    /// <summary>Appends; what is returned counts as acknowledged.</summary>
    public async Task Append(JournalStore store, params EntryDraft[] drafts) => acknowledged.AddRange(await store.AppendAsync(drafts));

    /// <summary>Opens what a fault left behind: nothing acknowledged missing or altered, nothing erased back, sound, usable, and quiet afterwards.</summary>
    public async Task Check(SimulatedDisk disk, string where)
    {
        await using (var store = await Stores.Open(disk))
        {
            Assert.False(store.Findings.Any(f => f.Severe), $"{where}: {string.Join(" | ", store.Findings)}");
            CheckEntries(store, where);
            await Append(store, Drafts.Of("job-1", "clock.anchored"));
        }

        var report = JournalVerifier.Verify(Stores.Folder, disk);
        Assert.True(report.IsSound, $"{where}: {string.Join(" | ", report.Lines())}");
        await using var again = await Stores.Open(disk);
        Assert.True(again.Findings.Count == 0, $"{where}, opened once more: {string.Join(" | ", again.Findings)}");
    }

    /// <summary>Holds the entries of a store against what was acknowledged.</summary>
    public void CheckEntries(JournalStore store, string where)
    {
        var entries = store.ChainNames().SelectMany(c => store.Read(c)).ToDictionary(e => e.Hash);
        foreach (var entry in acknowledged)
        {
            Assert.True(entries.TryGetValue(entry.Hash, out var found), $"{where}: {entry.Chain}/{entry.Sequence} was acknowledged and is missing");
            Assert.True(found.Bytes.Span.SequenceEqual(entry.Bytes.Span), $"{where}: {entry.Chain}/{entry.Sequence} is not what was acknowledged");
            var texts = string.Join('|', found.Sealed.Select(t => t.Value.Text));
            var expected = string.Join('|', entry.Sealed.Select(t => t.Value.Text));
            Assert.True(
                erased.Contains(entry.Hash) ? texts.Length == 0 : texts == expected || erasing.Contains(entry.Hash),
                $"{where}: the texts of {entry.Chain}/{entry.Sequence} are '{texts}'");
        }
    }

    private async Task Session(JournalStore store)
    {
        await Append(store, Drafts.Of("job-1", "job.opened"), Drafts.Of("job-1", "sheet.pinned", LargeSheet));
        await Append(store, Drafts.Heard("job-1", Phrase));
        await Append(store, Drafts.Heard("job-1", Kept), Drafts.Of(Chains.Tablet, "device.lost"), Drafts.Of("job-1", "clock.anchored"));
        await store.RecordHeadsAsync();
        var heard = store.Read("job-1").Last(e => e.Sealed.Values.Any(t => t.Text == Phrase));
        erasing.Add(heard.Hash);
        if (await store.EraseSealedAsync("job-1", heard.Sequence))
        {
            erased.Add(heard.Hash);
        }

        await Append(store, Drafts.Of("job-1", "job.closed"));
    }
}
