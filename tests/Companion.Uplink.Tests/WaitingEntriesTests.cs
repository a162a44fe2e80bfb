namespace Companion.Uplink.Tests;

/// <summary>What waits is counted without reading what was counted already.</summary>
public sealed class WaitingEntriesTests
{
    private static readonly DateTimeOffset Start = new(2026, 11, 26, 14, 2, 0, TimeSpan.Zero);

    [Fact]
    public void Entries_bytes_and_the_oldest_time_are_those_of_what_is_not_held()
    {
        var source = new CountingSource();
        var waiting = new WaitingEntries(source);
        source.Add("job-1", 100, 50, 20);
        source.Add("job-2", 7);
        waiting.Look("job-1", 1);
        waiting.Look("job-2", 0);
        Assert.Equal((3, 51 + 21 + 8, Start.AddMinutes(2)), (waiting.Count, waiting.Bytes, waiting.Since));
        waiting.Look("job-1", 3);
        Assert.Equal((1, 8, Start.AddMinutes(4)), (waiting.Count, waiting.Bytes, waiting.Since));
        waiting.Look("job-2", 1);
        Assert.Equal((0, 0, null), (waiting.Count, waiting.Bytes, waiting.Since));
    }

    [Fact]
    public void With_a_long_record_waiting_a_new_entry_costs_no_more_than_itself()
    {
        var source = new CountingSource();
        var waiting = new WaitingEntries(source);
        source.Add("job-1", [.. Enumerable.Repeat(300, 5000)]);
        waiting.Look("job-1", 0);
        Assert.Equal(5000, source.Given);
        for (var look = 0; look < 50; look++)
        {
            source.Add("job-1", 300);
            waiting.Look("job-1", look);
        }

        Assert.Equal(5050, source.Given);
        Assert.Equal((5050 - 49, (5050 - 49) * 301L), (waiting.Count, waiting.Bytes));
    }

    [Fact]
    public void What_the_watch_room_lost_waits_again()
    {
        var source = new CountingSource();
        var waiting = new WaitingEntries(source);
        source.Add("job-1", 10, 10, 10);
        waiting.Look("job-1", 3);
        Assert.Equal(0, waiting.Count);
        waiting.Look("job-1", 1);
        Assert.Equal((2, 22), (waiting.Count, waiting.Bytes));
    }

    /// <summary>Chains of entries of given lengths, one a minute, that counts how many it gave out.</summary>
    private sealed class CountingSource : IOutboxSource
    {
        private readonly Dictionary<string, List<OutboxLine>> _chains = [];
        private int _minute;

        public int Given { get; private set; }

        public void Add(string chain, params int[] lengths)
        {
            _chains.TryAdd(chain, []);
            foreach (var length in lengths)
            {
                _chains[chain].Add(new OutboxLine(_chains[chain].Count + 1, string.Empty, new byte[length], Start.AddMinutes(++_minute)));
            }
        }

        public IReadOnlyList<string> Chains() => [.. _chains.Keys];

        public IReadOnlyList<OutboxLine> Read(string chain, long fromSequence)
        {
            List<OutboxLine> lines = [.. _chains[chain].Where(line => line.Sequence >= fromSequence)];
            Given += lines.Count;
            return lines;
        }
    }
}
