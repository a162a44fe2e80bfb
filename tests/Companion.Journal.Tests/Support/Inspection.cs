using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Proof;
using Companion.Simulation.Disk;

namespace Companion.Journal.Tests.Support;

/// <summary>
/// What becomes of a changed store: noticed (by verifying, by a finding, or by a refusal to open) or harmless. Whatever it is, an
/// altered entry read back as good, an entry lost without a severe finding, and any exception but a fault in plain words fail the test.
/// </summary>
public sealed class Inspection
{
    private readonly Dictionary<string, JournalEntry> original;

    private Inspection(Dictionary<string, JournalEntry> original) => this.original = original;

    /// <summary>Notes what a good store holds; works on a copy.</summary>
    public static async Task<Inspection> Of(SimulatedDisk good)
    {
        await using var store = await Stores.OpenAsTheAppDoes(good.Copy());
        return new Inspection(store.ChainNames().SelectMany(c => store.Read(c)).ToDictionary(e => e.Hash));
    }

    /// <summary>True when verifying a changed copy finds it not sound. The copy is left as it is.</summary>
    public static bool IsNoticedByVerifying(SimulatedDisk changed, string where)
    {
        try
        {
            return !JournalVerifier.Verify(Stores.Folder, changed).IsSound;
        }
        catch (Exception cause) when (cause is not FileNotFoundException)
        {
            throw new InvalidOperationException($"{where}: verifying threw {cause}", cause);
        }
    }

    /// <summary>Opens a changed copy; returns what the technician is told, empty when the change went unnoticed and did no harm.</summary>
    public async Task<IReadOnlyList<string>> Open(SimulatedDisk changed, string where)
    {
        try
        {
            await using var store = await Stores.OpenAsTheAppDoes(changed);
            Check(store, where);
            return [.. store.Findings.Select(f => f.Message)];
        }
        catch (StoreFaultException refusal)
        {
            return [refusal.Message];
        }
        catch (Exception cause) when (cause is not Xunit.Sdk.XunitException)
        {
            throw new InvalidOperationException($"{where}: opening threw {cause}", cause);
        }
    }

    private void Check(JournalStore store, string where)
    {
        var found = store.ChainNames().SelectMany(c => store.Read(c)).ToDictionary(e => e.Hash);
        var isSevere = store.Findings.Any(f => f.Severe);
        foreach (var (hash, entry) in original)
        {
            Assert.True(found.ContainsKey(hash) || isSevere, $"{where}: {entry.Chain}/{entry.Sequence} is missing and nobody is told");
            if (found.TryGetValue(hash, out var read))
            {
                Assert.True(read.Bytes.Span.SequenceEqual(entry.Bytes.Span), $"{where}: {entry.Chain}/{entry.Sequence} was altered");
                var texts = string.Join('|', read.Sealed.Select(t => t.Value));
                Assert.True(texts == string.Join('|', entry.Sealed.Select(t => t.Value)) || isSevere, $"{where}: the texts of {entry.Sequence} are '{texts}'");
            }
        }

        Assert.All(found.Values.Where(e => !original.ContainsKey(e.Hash)), e => Assert.True(
            e.Type is "segment.started" or "head.signed", $"{where}: {e.Chain}/{e.Sequence} {e.Type} was never recorded"));
    }
}
