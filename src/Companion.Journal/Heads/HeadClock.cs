using Companion.Contracts;

namespace Companion.Journal.Heads;

/// <summary>
/// Decides when a job's head is due: at its start, at its end or handover, with whatever comes after that, and when an hour of entry time has passed since the last
/// one, in either direction, because the wall clock may be put back. Used by the writer only.
/// </summary>
internal sealed class HeadClock
{
    /// <summary>Longest stretch of a job's chain without a signed head.</summary>
    public static readonly TimeSpan Interval = TimeSpan.FromHours(1);

    private readonly Dictionary<string, DateTimeOffset> lastHeads = [];
    private readonly HashSet<string> open = [];
    private readonly HashSet<string> ended = [];

    /// <summary>Jobs opened and not closed, in no order.</summary>
    public IReadOnlyCollection<string> OpenJobs => open;

    /// <summary>True when the entry makes a head of its chain due.</summary>
    public bool IsDueAfter(EntryDraft draft) =>
        draft.Chain != Chains.Tablet
        && (draft.Type is EntryTypes.JobOpened or EntryTypes.JobClosed or EntryTypes.JobHandedOver
            || ended.Contains(draft.Chain)
            || !lastHeads.TryGetValue(draft.Chain, out var last)
            || (draft.Time - last).Duration() >= Interval);

    /// <summary>Takes note of a durable entry.</summary>
    public void Note(JournalEntry entry)
    {
        switch (entry.Type)
        {
            case EntryTypes.JobOpened:
                open.Add(entry.Chain);
                break;
            case EntryTypes.JobClosed:
                open.Remove(entry.Chain);
                ended.Add(entry.Chain);
                break;
            case EntryTypes.JobHandedOver:
                ended.Add(entry.Chain);
                break;
            case EntryTypes.HeadSigned when entry.Chain == Chains.Tablet:
                lastHeads[HeadStatement.Of(entry).Job] = entry.Time;
                break;
        }
    }
}
