using Companion.Contracts;
using Companion.Domain.Events;
using Companion.Domain.Evolving;
using Companion.Domain.Isolation;
using Companion.Engine.Codec;
using Companion.Engine.Ports;

namespace Companion.Engine;

/// <summary>State from the journal (I13).</summary>
public static class Rebuild
{
    /// <summary>The job of a chain, folded from its entries; null when the chain holds none.</summary>
    public static Job? JobOf(IEnumerable<JournalEntry> entries)
    {
        Job? job = null;
        foreach (var entry in entries)
        {
            job = Next(job, entry);
        }

        return job;
    }

    /// <summary>The job after one more entry.</summary>
    public static Job? Next(Job? job, JournalEntry entry) => Next(job, entry, EventCodec.Read(entry));

    /// <summary>The job after one more entry, whose event was read before; null for an event of no job.</summary>
    public static Job? Next(Job? job, JournalEntry entry, JobEvent? happened) => happened is null
        ? job is null ? null : job with { Sequence = entry.Sequence }
        : Evolve.Apply(job, happened, entry.Chain, entry.Sequence, EventCodec.MomentOf(entry));

    /// <summary>The job that is open in a store; null when none is.</summary>
    public static Job? OpenJob(IJournal journal) => journal.ChainNames()
        .Where(chain => chain != Chains.Tablet)
        .Reverse()
        .Select(chain => JobOf(journal.Read(chain)))
        .FirstOrDefault(job => job is { Ended: false });

    /// <summary>The latest wall-clock time in a store.</summary>
    public static DateTimeOffset LatestWall(IJournal journal) => journal.ChainNames()
        .SelectMany(chain => journal.Read(chain))
        .Select(entry => entry.Time)
        .DefaultIfEmpty(DateTimeOffset.UnixEpoch)
        .Max();
}
