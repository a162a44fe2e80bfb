using System.Text.Json;
using Companion.Contracts;
using Companion.Domain.Retention;
using Companion.Engine.Ports;

namespace Companion.Journal.Retention;

/// <summary>
/// Erases personal texts of a tablet's store that are due, or that somebody asks to be erased. What is erased is told first, in the tablet's
/// chain, without the texts: a kill in between is made good by the next run. One call at a time.
/// </summary>
public sealed class TabletRetention(JournalStore journal, IClock clock)
{
    /// <summary>What would be erased of each chain, and what is on hold, and why.</summary>
    /// <param name="policy">For how long each kind is kept.</param>
    public IReadOnlyList<ChainErasure> Due(RetentionPolicy policy) => [.. journal.ChainNames()
        .Select(chain => Of(chain, policy, holdsOpenAlerts: true))
        .Where(found => found.IsWorthTelling)];

    /// <summary>What somebody asks to be erased: all of one job. A named person answers for an alert that nobody took; an open job stays on hold.</summary>
    public ChainErasure Asked(string job) => Of(job, null, holdsOpenAlerts: false);

    /// <summary>Erases, and tells who wanted it; durable when this completes.</summary>
    /// <param name="found">What to erase.</param>
    /// <param name="by">Who asked for it; null when it was due.</param>
    /// <param name="reason">Why they asked.</param>
    public async Task EraseAsync(ChainErasure found, string? by = null, string? reason = null)
    {
        if (found.Erasure.IsEmpty)
        {
            return;
        }

        var now = clock.Now();
        var personal = new Dictionary<string, string>();
        if (by is not null)
        {
            personal["person"] = by;
            personal["reason"] = reason ?? string.Empty;
        }

        var data = JsonSerializer.Serialize(new { chain = found.Chain, why = by is null ? "due" : "request", texts = found.Erasure.CountsByName });
        await journal.AppendAsync([new EntryDraft(Chains.Tablet, Erasure.EntryType, now.Wall, now.BootId, now.Boot.Nanoseconds, data, personal)]).ConfigureAwait(false);
        await journal.EraseSealedAsync(found.Erasure.Places).ConfigureAwait(false);
    }

    private ChainErasure Of(string chain, RetentionPolicy? policy, bool holdsOpenAlerts)
    {
        var entries = journal.Read(chain);
        var now = clock.Now().Wall;
        if (chain == Chains.Tablet)
        {
            return new ChainErasure(chain, Erasure.Of(entries, entry => entry.Time, policy, now), null);
        }

        var hold = JobHold.Of(entries);
        var reason = hold.Ended is not null && !holdsOpenAlerts ? null : hold.Reason;
        var erasure = Erasure.Of(entries, _ => hold.Ended ?? entries[^1].Time, policy, now);
        return new ChainErasure(chain, reason is null ? erasure : new Erasure([], erasure.Counts), reason);
    }
}

/// <summary>What is to be erased of a chain.</summary>
/// <param name="Chain">The chain.</param>
/// <param name="Erasure">The texts; where the chain is on hold, no places, and the counts of what would be due otherwise.</param>
/// <param name="Hold">Why nothing is erased, in words; null when it is.</param>
public sealed record ChainErasure(string Chain, Erasure Erasure, string? Hold)
{
    /// <summary>True when something is erased, or held that would be.</summary>
    public bool IsWorthTelling => Erasure.Counts.Count > 0;
}
