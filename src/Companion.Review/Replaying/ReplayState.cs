using System.Collections.Immutable;
using Companion.Domain.Isolation;
using Companion.Engine;

namespace Companion.Review.Replaying;

/// <summary>What a record says after so many of its entries. Immutable, so that keeping one costs no more than what changed since the one before.</summary>
/// <param name="Count">How many entries are in it.</param>
/// <param name="Job">The job; null before the entry that opened it.</param>
/// <param name="Heard">The last thing heard that an entry tells of; null when none does.</param>
/// <param name="Lost">Devices that were lost, with what was said of them.</param>
/// <param name="Unread">How many entries could not be read: the state may lack what they said.</param>
public sealed record ReplayState(int Count, Job? Job, HeardLine? Heard, ImmutableDictionary<string, string> Lost, int Unread)
{
    /// <summary>Before the first entry.</summary>
    public static readonly ReplayState Before = new(0, null, null, ImmutableDictionary<string, string>.Empty, 0);

    /// <summary>The snapshot that the technician's screen was built from, as far as it is recorded.</summary>
    public Snapshot AsShown(Companion.Domain.Time.Moment moment) => new(Job, moment, true, null, Heard, Lost);
}
