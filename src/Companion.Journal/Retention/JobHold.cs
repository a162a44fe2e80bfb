using System.Text.Json;
using Companion.Contracts;

namespace Companion.Journal.Retention;

/// <summary>Whether a job's personal data may be erased, from the job's entries alone. Pure; any thread.</summary>
/// <param name="Ended">When the job ended: its last entry's time; null while it is open.</param>
/// <param name="HasOpenAlert">True when an alert was raised in it that nobody took.</param>
public sealed record JobHold(DateTimeOffset? Ended, bool HasOpenAlert)
{
    /// <summary>Why nothing of the job is erased, in words; null when it may be.</summary>
    public string? Reason => Ended is null ? "the job is open" : HasOpenAlert ? "nobody has taken an alert of the job" : null;

    /// <summary>Reads it from the entries of one job, in order.</summary>
    public static JobHold Of(IEnumerable<JournalEntry> job)
    {
        DateTimeOffset? latest = null;
        var hasEnded = false;
        var open = new HashSet<long>();
        foreach (var entry in job)
        {
            latest = latest > entry.Time ? latest : entry.Time;
            hasEnded |= entry.Type is EntryTypes.JobClosed or EntryTypes.JobHandedOver;
            switch (entry.Type)
            {
                case "alert.raised":
                    open.Add(entry.Sequence);
                    break;
                case "alert.taken":
                    open.Remove(Number(entry, "alert"));
                    break;
                case "call.taken":
                    open.Remove(Number(entry, "call"));
                    break;
            }
        }

        return new JobHold(hasEnded ? latest : null, open.Count > 0);
    }

    private static long Number(JournalEntry entry, string member)
    {
        using var data = JsonDocument.Parse(entry.Data);
        return data.RootElement.TryGetProperty(member, out var number) && number.TryGetInt64(out var value) ? value : 0;
    }
}
