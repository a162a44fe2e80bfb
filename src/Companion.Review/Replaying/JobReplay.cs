using System.Collections.Immutable;

namespace Companion.Review.Replaying;

/// <summary>
/// A record at any of its entries. States are kept every so many entries, as far as anybody has looked; a seek folds from the nearest one.
/// Callable from any thread.
/// </summary>
public sealed class JobReplay(RecordedJob record)
{
    /// <summary>Most states that are kept, whatever the length of the record.</summary>
    public const int MostKept = 1024;

    /// <summary>States are kept no closer than this: folding so few entries is quicker than anybody notices.</summary>
    public const int LeastApart = 32;

    private readonly Lock _lock = new();
    private readonly List<ReplayState> _kept = [ReplayState.Before];
    private readonly Lazy<Landmarks> _landmarks = new(() => Landmarks.Of(record));
    private ReplayState _last = ReplayState.Before;

    /// <summary>The record.</summary>
    public RecordedJob Record => record;

    /// <summary>Where refusals, alerts and the like stand in it.</summary>
    public Landmarks Landmarks => _landmarks.Value;

    /// <summary>How many entries lie between two states that are kept.</summary>
    public int Apart { get; } = Math.Max(LeastApart, (record.Entries.Length + MostKept - 1) / MostKept);

    /// <summary>How many states are kept now, the empty one before the first entry among them.</summary>
    public int Kept
    {
        get
        {
            lock (_lock)
            {
                return _kept.Count;
            }
        }
    }

    /// <summary>The length of the record.</summary>
    public TimeSpan Length => record.Entries is [.., var last] ? last.Since : TimeSpan.Zero;

    /// <summary>The state after so many entries; a count outside the record is brought inside.</summary>
    public ReplayState After(int count)
    {
        var wanted = Math.Clamp(count, 0, record.Entries.Length);
        lock (_lock)
        {
            var kept = _kept[Math.Min(wanted / Apart, _kept.Count - 1)];
            var state = _last.Count <= wanted && _last.Count > kept.Count ? _last : kept;
            while (state.Count < wanted)
            {
                state = ReplayFold.Next(state, record.Entries[state.Count]);
                if (state.Count == _kept.Count * Apart)
                {
                    _kept.Add(state);
                }
            }

            return _last = state;
        }
    }

    /// <summary>How many entries there are up to and with this sequence.</summary>
    public int CountTo(long sequence) => CountWhile(record.Entries, entry => entry.Sequence <= sequence);

    /// <summary>How many entries there were at this time since the first; never less than one of a record that has any.</summary>
    public int CountAt(TimeSpan since) => Math.Max(Math.Min(1, record.Entries.Length), CountWhile(record.Entries, entry => entry.Since <= since));

    private static int CountWhile(ImmutableArray<RecordedEntry> entries, Func<RecordedEntry, bool> holds)
    {
        var (low, high) = (0, entries.Length);
        while (low < high)
        {
            var middle = low + ((high - low) / 2);
            (low, high) = holds(entries[middle]) ? (middle + 1, high) : (low, middle);
        }

        return low;
    }
}
