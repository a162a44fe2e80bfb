using Companion.Contracts;
using Companion.Journal.Format;

namespace Companion.Journal.Ledger;

/// <summary>Reads entries by arrival number, a stretch at a time so that a long read never holds up an append. Any thread.</summary>
internal static class ChainReader
{
    private const int LongestStretch = 256;

    /// <summary>The entries of these arrival numbers, in that (rising) order, each checked against its hash again.</summary>
    public static IEnumerable<JournalEntry> Read(LedgerStore ledger, IReadOnlyList<long> arrivals)
    {
        var at = 0;
        while (at < arrivals.Count)
        {
            var first = arrivals[at];
            var rows = ledger.Between(first, Math.Min(arrivals[^1], first + LongestStretch - 1)).ToDictionary(r => r.Arrival, r => r.Bytes);
            for (; at < arrivals.Count && arrivals[at] < first + LongestStretch; at++)
            {
                yield return rows.TryGetValue(arrivals[at], out var bytes)
                    ? EntryCodec.Parse(bytes)
                    : throw new LedgerDamageException($"LiteDB no longer returns entry {arrivals[at]}");
            }
        }
    }
}
