using System.Text.Json;
using Companion.Contracts;
using Companion.Domain.Sound;

namespace Companion.Journal.Retention;

/// <summary>What is known of a job's recorded sound. Any thread.</summary>
public static class RecordedSound
{
    /// <summary>For how many days it was announced to be kept; none when it was not announced, so that it goes at once.</summary>
    public static int AnnouncedDays(IEnumerable<JournalEntry> job)
    {
        if (job.FirstOrDefault(entry => entry.Type == EntryTypes.SoundAnnounced) is not { } announced)
        {
            return 0;
        }

        using var data = JsonDocument.Parse(announced.Data);
        return data.RootElement.TryGetProperty("days", out var days) && days.TryGetInt32(out var value) ? Math.Max(0, value) : 0;
    }

    /// <summary>How many files of it lie in a store; none for a name that is no plain one.</summary>
    public static int Count(string store, string job) => SoundFolder.IsPlainName(job) && Directory.Exists(SoundFolder.Of(store, job))
        ? Directory.GetFiles(SoundFolder.Of(store, job)).Length
        : 0;
}
