using Companion.Domain.Events;
using Companion.Review;
using Companion.Review.Replaying;

namespace Companion.Pages.Replay;

/// <summary>Where a replay stands, and where its keys lead from there.</summary>
/// <param name="Replay">The record.</param>
/// <param name="Screen">The screen there.</param>
public sealed record ReplayPlace(JobReplay Replay, ReplayScreen Screen)
{
    private int Count => Screen.State.Count;

    /// <summary>The last entry; null in an empty record.</summary>
    public RecordedEntry? Entry => EntryOf(Count);

    /// <summary>The sequence of the entry after it.</summary>
    public long? Next => EntryOf(Replay.CountTo(Entry?.Sequence ?? 0) + 1)?.Sequence;

    /// <summary>The sequence of the entry before it.</summary>
    public long? Before => EntryOf(Count - 1)?.Sequence;

    /// <summary>The last prompt that had been spoken, or had failed; null before the first.</summary>
    public RecordedEntry? Prompt => LastSaid(Replay.Record.Entries.AsSpan()[..Count]);

    /// <summary>The prompt that ends next: it is spoken again so that it ends where it ended.</summary>
    public RecordedEntry? Coming => FirstSpoken(Replay.Record.Entries.AsSpan()[Count..]);

    /// <summary>The sequence of the next one of a kind.</summary>
    public long? To(Landmark kind) => Replay.Landmarks.Next(kind, Count) is { } count ? EntryOf(count)!.Sequence : null;

    /// <summary>The sequence of the one of a kind before it.</summary>
    public long? Back(Landmark kind) => Replay.Landmarks.Previous(kind, Count) is { } count ? EntryOf(count)!.Sequence : null;

    /// <summary>
    /// The last entry of the same turn of the loop; null when this is the last one. The entries of one turn bear one reading of the clock, and
    /// the screen changed only once all of them were written.
    /// </summary>
    public RecordedEntry? TurnEnd
    {
        get
        {
            var count = Count;
            while (EntryOf(count + 1) is { } next && next.Entry.BootId == Entry?.Entry.BootId && next.Entry.Uptime == Entry.Entry.Uptime)
            {
                count++;
            }

            return count == Count ? null : EntryOf(count);
        }
    }

    /// <summary>How many troubles the record has up to here. A wall clock that was set is none for what is shown.</summary>
    public int Troubles => Replay.Record.Troubles.Count(trouble => trouble.Kind != TroubleKind.ClockStep && trouble.Sequence <= (Entry?.Sequence ?? 0));

    private static RecordedEntry? LastSaid(ReadOnlySpan<RecordedEntry> before)
    {
        for (var index = before.Length - 1; index >= 0; index--)
        {
            if (ReplayWords.Said(before[index]) is not null)
            {
                return before[index];
            }
        }

        return null;
    }

    private static RecordedEntry? FirstSpoken(ReadOnlySpan<RecordedEntry> rest)
    {
        foreach (var entry in rest)
        {
            if (entry.Happened is PromptSpoken)
            {
                return entry;
            }
        }

        return null;
    }

    private RecordedEntry? EntryOf(int count) => count > 0 && count <= Replay.Record.Entries.Length ? Replay.Record.Entries[count - 1] : null;
}
