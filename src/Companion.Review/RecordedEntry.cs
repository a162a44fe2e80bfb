using Companion.Contracts;
using Companion.Domain.Events;
using Companion.Engine.Codec.Upcasting;

namespace Companion.Review;

/// <summary>An entry with the event it carries and its place in time.</summary>
/// <param name="Entry">As recorded.</param>
/// <param name="Happened">The event; null for a type that belongs to no job, or that cannot be read.</param>
/// <param name="At">Nanoseconds from the chain's first entry: within a running period by CLOCK_BOOTTIME, across restarts by the wall clock, never backwards.</param>
public sealed record RecordedEntry(JournalEntry Entry, JobEvent? Happened, long At)
{
    /// <summary>Its number in the chain.</summary>
    public long Sequence => Entry.Sequence;

    /// <summary>True when a newer Companion made it: time and type are known, what it says is not.</summary>
    public bool IsNewer => Entry.Format > EntryFormat.Newest;

    /// <summary>Its place in time.</summary>
    public TimeSpan Since => TimeSpan.FromTicks(At / 100);
}
