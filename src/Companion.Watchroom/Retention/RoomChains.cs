using System.Text.Json;
using Companion.Contracts;
using Companion.Domain.Retention;
using Companion.Engine.Ports;
using Companion.Journal.Retention;
using Companion.Watchroom.Access;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Retention;

/// <summary>What is due of the watch room's own chains. Reads them anew each time it is made; one thread.</summary>
internal sealed class RoomChains
{
    /// <summary>The chain of watches.</summary>
    public const string Watch = WatchEntries.Chain;

    /// <summary>The chain of comments.</summary>
    public const string Review = Companion.Watchroom.Reviewing.Comments.Chain;

    private const string Telling = Companion.Watchroom.Telling.Outbox.Chain;

    /// <summary>The chains that hold personal texts.</summary>
    public static readonly IReadOnlyList<string> Names = [Watch, Review, Telling, Audit.Chain];

    private readonly IJournal journal;
    private readonly HashSet<(string Device, string Job)> onHold;
    private readonly HashSet<string> openAlerts;

    public RoomChains(IJournal journal, WatchView view)
    {
        this.journal = journal;
        var open = view.Alerts.Where(alert => alert.Taken is null).ToList();
        openAlerts = [.. open.Select(alert => alert.Id)];
        onHold = [.. view.Watches.Select(watch => (watch.Device, watch.Job)), .. open.Select(alert => (alert.Device, alert.Job))];
    }

    /// <summary>What is due of a chain.</summary>
    public Erasure Due(string chain, RetentionPolicy policy, DateTimeOffset now)
    {
        var entries = journal.Read(chain);
        if (chain is not (Watch or Review))
        {
            return Erasure.Of(entries, entry => chain == Telling && IsOfOpenAlert(entry) ? null : entry.Time, policy, now);
        }

        var jobs = JobsOf(entries);
        var ends = entries.Where(entry => jobs.ContainsKey(entry.Sequence)).GroupBy(entry => jobs[entry.Sequence]).ToDictionary(job => job.Key, job => job.Max(entry => entry.Time));
        return Erasure.Of(
            entries, entry => !jobs.TryGetValue(entry.Sequence, out var job) ? entry.Time : onHold.Contains(job) ? null : ends[job], policy, now);
    }

    /// <summary>Everything of one job in the chain of watches or of comments.</summary>
    public Erasure OfJob(string chain, string device, string job)
    {
        var entries = journal.Read(chain);
        var jobs = JobsOf(entries);
        return Erasure.Of(entries, entry => jobs.GetValueOrDefault(entry.Sequence) == (device, job) ? entry.Time : null, null, default);
    }

    private bool IsOfOpenAlert(JournalEntry entry) => entry.Sealed.TryGetValue("alert", out var alert) && openAlerts.Contains(alert.Text);

    /// <summary>By sequence: the job that an entry is of; who took an alert stands with the alert's job.</summary>
    private static Dictionary<long, (string Device, string Job)> JobsOf(IReadOnlyList<JournalEntry> entries)
    {
        var (jobs, alerts) = (new Dictionary<long, (string, string)>(), new Dictionary<string, (string, string)>());
        foreach (var entry in entries)
        {
            using var document = JsonDocument.Parse(entry.Data);
            var alert = Word(document, "alert");
            if (Word(document, "device") is { } device && Word(document, "job") is { } job)
            {
                jobs[entry.Sequence] = (device, job);
                alerts[alert ?? string.Empty] = (device, job);
            }
            else if (alert is not null && alerts.TryGetValue(alert, out var of))
            {
                jobs[entry.Sequence] = of;
            }
        }

        return jobs;
    }

    private static string? Word(JsonDocument data, string name) => data.RootElement.TryGetProperty(name, out var value) ? value.GetString() : null;
}
