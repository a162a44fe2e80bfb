using Companion.Contracts;

namespace Companion.Journal.Linking;

/// <summary>
/// Which entries a store holds and where: for each chain its sequences with their arrival numbers. Grown by the writer, read from any
/// thread (an own lock). Sixteen bytes an entry.
/// </summary>
internal sealed class ChainIndex
{
    private readonly Lock gate = new();
    private readonly Dictionary<string, Chain> chains = [];
    private readonly List<string> jobs = [];

    /// <summary>Number of entries in all chains: the last arrival number.</summary>
    public long Arrivals { get; private set; }

    /// <summary>The end of a chain; <see cref="ChainHead.Empty"/> for an unknown one.</summary>
    public ChainHead HeadOf(string chain)
    {
        lock (gate)
        {
            return chains.TryGetValue(chain, out var known) ? known.Head : ChainHead.Empty;
        }
    }

    /// <summary>The tablet's chain, then jobs in order of their first entry.</summary>
    public IReadOnlyList<string> Names()
    {
        lock (gate)
        {
            return chains.ContainsKey(Chains.Tablet) ? [Chains.Tablet, .. jobs] : [.. jobs];
        }
    }

    /// <summary>Takes the next entry in; returns its arrival number.</summary>
    public long Add(JournalEntry entry)
    {
        lock (gate)
        {
            if (!chains.TryGetValue(entry.Chain, out var chain))
            {
                chains.Add(entry.Chain, chain = new Chain());
                if (entry.Chain != Chains.Tablet)
                {
                    jobs.Add(entry.Chain);
                }
            }

            Arrivals++;
            chain.Entries.Add((entry.Sequence, Arrivals));
            chain.Head = new ChainHead(entry.Sequence, entry.Hash);
            return Arrivals;
        }
    }

    /// <summary>Arrival numbers of a chain's entries from a sequence on, in order.</summary>
    public IReadOnlyList<long> ArrivalsOf(string name, long fromSequence)
    {
        lock (gate)
        {
            if (!chains.TryGetValue(name, out var chain))
            {
                return [];
            }

            var first = chain.Entries.BinarySearch((fromSequence, 0));
            return [.. chain.Entries.Skip(first < 0 ? ~first : first).Select(e => e.Arrival)];
        }
    }

    /// <summary>The arrival number of one entry; null when there is none.</summary>
    public long? ArrivalOf(string name, long sequence)
    {
        lock (gate)
        {
            if (!chains.TryGetValue(name, out var chain))
            {
                return null;
            }

            var at = ~chain.Entries.BinarySearch((sequence, 0));
            return at < chain.Entries.Count && chain.Entries[at].Sequence == sequence ? chain.Entries[at].Arrival : null;
        }
    }

    private sealed class Chain
    {
        public List<(long Sequence, long Arrival)> Entries { get; } = [];

        public ChainHead Head { get; set; } = ChainHead.Empty;
    }
}
