using System.Globalization;
using Companion.Contracts;
using Companion.Journal.Heads;
using Companion.Journal.Proof;

namespace Companion.Journal.Reading;

/// <summary>
/// Verifies one job's chain as strictly as a whole store is verified, and the signatures under the ends of it, while the lines of a store pass by.
/// Nothing else in the store is looked at. One thread.
/// </summary>
internal sealed class JobProof(string job)
{
    private readonly ChainVerifier own = new();
    private readonly Dictionary<string, string> publicKeys = [];
    private readonly List<string> unsigned = [];

    /// <summary>What does not hold, in plain words; empty when all does.</summary>
    public IEnumerable<string> Misfits => own.FirstBad is { } bad
        ? [string.Create(CultureInfo.InvariantCulture, $"This job's chain does not hold from entry {bad.Sequence} on: {bad.What}."), .. unsigned]
        : unsigned;

    /// <summary>Takes the next line of the store.</summary>
    /// <param name="line">Its bytes.</param>
    /// <param name="chain">The chain that it claims; null when it cannot be read.</param>
    public void Take(ReadOnlyMemory<byte> line, string? chain)
    {
        if (chain == job)
        {
            own.Take(line);
        }
        else if (chain == Chains.Tablet && LineReading.Of(line).Entry is { } entry)
        {
            TakeTablet(line, entry);
        }
    }

    private void TakeTablet(ReadOnlyMemory<byte> line, JournalEntry entry)
    {
        if (HeadStatement.PublicKeyIn(entry) is { } key)
        {
            publicKeys[HeadStatement.KeyId(key)] = key;
        }
        else if (entry.Type == EntryTypes.HeadSigned && LooseReading.MayName(line, job) && HeadStatement.Misfit(entry, publicKeys) is { } misfit)
        {
            unsigned.Add(string.Create(CultureInfo.InvariantCulture, $"The end of this job that the tablet's own entry {entry.Sequence} names does not hold: {misfit}."));
        }
    }
}
