using System.Text.Json;
using Companion.Contracts;
using Companion.Domain.Retention;
using Companion.Domain.Sound;
using Companion.Engine.Ports;

namespace Companion.Journal.Retention;

/// <summary>
/// Erases the sound that was recorded of jobs. It is kept for the days that were announced in the job, whatever is ordered later, or for fewer
/// if the policy for recordings says so. The entries with its digests stay. Told before it is done; a kill in between is made good by the next run.
/// </summary>
/// <param name="store">The store's folder.</param>
/// <param name="journal">Its journal.</param>
/// <param name="clock">The clocks.</param>
public sealed class SoundErasure(string store, JournalStore journal, IClock clock)
{
    /// <summary>Jobs of this store whose sound is due, those on hold among them.</summary>
    /// <param name="policy">The policy for personal data; null when there is none.</param>
    public IReadOnlyList<DueSound> Due(RetentionPolicy? policy)
    {
        var now = clock.Now().Wall;
        return [.. Jobs().Where(journal.ChainNames().Contains).Select(job => Of(job, holdsOpenAlerts: true))
            .Where(found => now - found.From >= TimeSpan.FromDays(Math.Min(found.Days, policy?.Recordings ?? found.Days)))];
    }

    /// <summary>The sound of one job, because somebody asks; null when there is none. An open job stays on hold.</summary>
    public DueSound? Asked(string job) => Jobs().Contains(job) ? Of(job, holdsOpenAlerts: false) : null;

    /// <summary>Folders of sound that belong to no job of this store: nobody can tell for how long they are kept.</summary>
    public int Unknown => Jobs().Except(journal.ChainNames()).Count();

    /// <summary>Tells it in the tablet's chain, then erases.</summary>
    /// <param name="found">What; nothing is done while it is on hold.</param>
    /// <param name="by">Who asked for it; null when it was due.</param>
    /// <param name="reason">Why they asked.</param>
    public async Task EraseAsync(DueSound found, string? by = null, string? reason = null)
    {
        if (found.Hold is not null)
        {
            return;
        }

        var now = clock.Now();
        var personal = by is null ? [] : new Dictionary<string, string> { ["person"] = by, ["reason"] = reason ?? string.Empty };
        var data = JsonSerializer.Serialize(new { chain = found.Job, why = by is null ? "due" : "request", texts = new { recordings = found.Files } });
        await journal.AppendAsync([new EntryDraft(Chains.Tablet, Erasure.EntryType, now.Wall, now.BootId, now.Boot.Nanoseconds, data, personal)]).ConfigureAwait(false);
        Directory.Delete(SoundFolder.Of(store, found.Job), recursive: true);
    }

    private IReadOnlyList<string> Jobs() => Directory.Exists(SoundFolder.Of(store))
        ? [.. Directory.GetDirectories(SoundFolder.Of(store)).Select(Path.GetFileName).OfType<string>().Order(StringComparer.Ordinal)]
        : [];

    private DueSound Of(string job, bool holdsOpenAlerts)
    {
        var entries = journal.Read(job);
        var hold = JobHold.Of(entries);
        return new DueSound(
            job,
            RecordedSound.Count(store, job),
            RecordedSound.AnnouncedDays(entries),
            hold.Ended ?? entries[^1].Time,
            hold.Ended is not null && !holdsOpenAlerts ? null : hold.Reason);
    }
}

/// <summary>Recorded sound that is to be erased.</summary>
/// <param name="Job">The job.</param>
/// <param name="Files">How many files.</param>
/// <param name="Days">For how many days it was announced to be kept; none when it was not announced.</param>
/// <param name="From">From when they count.</param>
/// <param name="Hold">Why it is not erased, in words; null when it is.</param>
public sealed record DueSound(string Job, int Files, int Days, DateTimeOffset From, string? Hold);
