namespace Companion.Uplink;

/// <summary>
/// Counts what the watch room does not hold yet. Every entry is read once, when it has come, and let go when it is acknowledged: with a long record
/// waiting, a new entry costs no more than itself. One thread.
/// </summary>
internal sealed class WaitingEntries(IOutboxSource source)
{
    private readonly Dictionary<string, Chain> _chains = [];

    /// <summary>How many wait, of all chains.</summary>
    public long Count => _chains.Values.Sum(chain => (long)chain.Waiting.Count);

    /// <summary>Their bytes as they are sent.</summary>
    public long Bytes => _chains.Values.Sum(chain => chain.Bytes);

    /// <summary>When the oldest of them was recorded, by the tablet's own clock; null when none waits.</summary>
    public DateTimeOffset? Since => _chains.Values.Where(chain => chain.Waiting.Count > 0).Min(chain => (DateTimeOffset?)chain.Waiting.Peek().Recorded);

    /// <summary>Brings a chain's count up to now.</summary>
    /// <param name="chain">The chain.</param>
    /// <param name="held">The last sequence that the watch room holds of it.</param>
    public void Look(string chain, long held)
    {
        if (!_chains.TryGetValue(chain, out var counted) || held < counted.Held)
        {
            // Never looked at, or the watch room lost what it had held.
            _chains[chain] = counted = new Chain { Last = held };
        }

        counted.Held = held;
        while (counted.Waiting.TryPeek(out var first) && first.Sequence <= held)
        {
            counted.Bytes -= counted.Waiting.Dequeue().Bytes;
        }

        foreach (var line in source.Read(chain, Math.Max(held, counted.Last) + 1))
        {
            counted.Waiting.Enqueue(new Entry(line.Sequence, line.Line.Length + 1, line.Recorded));
            counted.Bytes += line.Line.Length + 1;
            counted.Last = line.Sequence;
        }
    }

    private readonly record struct Entry(long Sequence, int Bytes, DateTimeOffset Recorded);

    private sealed class Chain
    {
        public Queue<Entry> Waiting { get; } = [];

        public long Bytes { get; set; }

        public long Held { get; set; }

        public long Last { get; set; }
    }
}
