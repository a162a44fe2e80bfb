using System.Text.Json;
using Companion.Contracts;

namespace Companion.Journal.Opening;

/// <summary>
/// Damage after which nothing has been recorded yet: the store may have been closed, or the power may have gone, before anybody was
/// told. As long as the segment it led to is the newest thing in the store, every opening tells it again. Used by one thread.
/// </summary>
internal sealed class FreshSegment
{
    private readonly List<string> chains = [];

    /// <summary>Why the segment was started; null when there is none or entries follow it.</summary>
    public string? Reason { get; private set; }

    /// <summary>The chains that go on in it.</summary>
    public IReadOnlyList<string> Chains => chains;

    /// <summary>Entries before it.</summary>
    public long Before { get; private set; }

    /// <summary>Takes note of the next entry of the store.</summary>
    public void Note(JournalEntry entry, long entriesBefore)
    {
        if (entry.Type == EntryTypes.HeadSigned && Reason is not null)
        {
            return;
        }

        if (entry.Type != EntryTypes.SegmentStarted || ReasonOf(entry) is not { } reason || reason == JournalStore.NewKeyReason)
        {
            chains.Clear();
            Reason = null;
            return;
        }

        Before = Reason is null ? entriesBefore : Before;
        Reason = reason;
        chains.Add(entry.Chain);
    }

    private static string? ReasonOf(JournalEntry entry)
    {
        using var data = JsonDocument.Parse(entry.Data);
        return data.RootElement.TryGetProperty("reason", out var reason) ? reason.ToString() : null;
    }
}
