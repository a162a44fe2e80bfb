using System.Text.Json;
using Companion.Contracts;
using Companion.Journal.Proof;
using Companion.TestKit;

namespace Companion.Watchroom.Tests.Together;

/// <summary>
/// A watch room that is killed again and again while tablets send to it, and what became of its alerts: told by its record alone, against what it had
/// acknowledged. The benchmarks run it too.
/// </summary>
/// <param name="room">The watch room, not yet started.</param>
/// <param name="folder">Where the tablets keep their files.</param>
/// <param name="chance">When it is killed.</param>
internal sealed class KillRun(WatchroomProcess room, string folder, Random chance)
{
    private const int Tablets = 4;
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(3);
    private static readonly TimeSpan LateAfter = TimeSpan.FromSeconds(2);
    private readonly List<(DateTimeOffset From, DateTimeOffset To)> _running = [];
    private readonly List<TimeSpan> _starts = [];
    private readonly List<SilentWorker> _workers = [];

    /// <summary>Kills it so many times, half a second to three seconds after it answers, then waits for every alert that is owed.</summary>
    public async Task<KillCounts> RunAsync(int kills, Action<int>? killed = null)
    {
        await room.StartAsync();
        var fingerprint = room.Fingerprint;
        for (var tablet = 0; tablet < Tablets; tablet++)
        {
            _workers.Add(await SilentWorker.StartAsync(room, folder, tablet));
        }

        try
        {
            for (var kill = 1; kill <= kills; kill++)
            {
                await Task.Delay(chance.Next(500, 3000));
                Kill();
                _starts.Add(await room.StartAsync());
                GoOn();
                killed?.Invoke(kill);
            }

            await SettleAsync();
        }
        finally
        {
            foreach (var worker in _workers)
            {
                await worker.DisposeAsync();
            }

            Kill();
        }

        return Count(kills) with { SameCertificate = room.Fingerprint == fingerprint };
    }

    private void Kill()
    {
        _running.Add((room.AnswersSince, TimeProvider.System.GetUtcNow()));
        room.Kill();
    }

    private HashSet<string> GoOn()
    {
        var raised = Alerts(Recorded()).Select(alert => alert.Name).ToHashSet();
        _workers.ForEach(worker => worker.GoOn(raised));
        return raised;
    }

    /// <summary>Until everybody was missed at least once, and every alert that is owed is there.</summary>
    private async Task SettleAsync()
    {
        var since = TimeProvider.System.GetTimestamp();
        while (TimeProvider.System.GetElapsedTime(since) < Patience)
        {
            await Task.Delay(500);
            var raised = Alerts(Recorded()).Select(alert => alert.Name).ToHashSet();
            if (_workers.All(worker => raised.Contains($"overdue:{worker.Job}:1") && worker.Owed.All(raised.Contains)))
            {
                return;
            }
        }
    }

    private KillCounts Count(int kills)
    {
        var record = Recorded();
        var alerts = Alerts(record).ToList();
        var owed = _workers.SelectMany(worker => worker.Owed).ToList();
        var lateness = alerts.Select(alert => Lateness(record, alert)).ToList();
        return new KillCounts(kills, owed.Count, alerts.Count)
        {
            Lost = owed.Except(alerts.Select(alert => alert.Name)).Count(),
            Doubled = alerts.Count - alerts.DistinctBy(alert => alert.Name).Count(),
            Late = lateness.Count(late => late > LateAfter),
            Blind = record.Count(entry => entry.Type == "watch.blind"),
            Lateness = lateness,
            Starts = _starts,
        };
    }

    /// <summary>
    /// For how long the watch room answered and had not raised it, although it was due: a call from when it was first sent, a missing check-in from its
    /// deadline, or from the end of the grace after a time in which nobody watched.
    /// </summary>
    private TimeSpan Lateness(IReadOnlyList<JournalEntry> record, (string Name, DateTimeOffset At) alert)
    {
        var (kind, job, number) = alert.Name.Split(':') is [var one, var two, var three] ? (one, two, long.Parse(three)) : throw new InvalidOperationException(alert.Name);
        var worker = _workers.Single(worker => worker.Job == job);
        DateTimeOffset due;
        if (kind == "overdue")
        {
            var grace = record.Where(entry => entry.Type == "watch.blind" && entry.Time <= alert.At).Select(entry => Time(entry, "graceuntil")).LastOrDefault();
            var heard = record.First(entry => entry.Type == "watch.checkin" && Text(entry, "job") == job && Number(entry, "sequence") == number).Time;
            due = heard + worker.Patience > grace ? heard + worker.Patience : grace;
        }
        else
        {
            due = kind == "call" ? worker.Called(number) : alert.At;
        }

        return _running
            .Select(span => (span.To < alert.At ? span.To : alert.At) - (span.From > due ? span.From : due))
            .Where(late => late > TimeSpan.Zero)
            .Aggregate(TimeSpan.Zero, (sum, late) => sum + late);
    }

    /// <summary>As the witness of its journal has it, beside a watch room that runs.</summary>
    private List<JournalEntry> Recorded()
    {
        using var export = new MemoryStream();
        JournalExport.Write(room.Journal, export, "watch");
        return [.. ExportLine.ReadAll(export.ToArray())];
    }

    private static IEnumerable<(string Name, DateTimeOffset At)> Alerts(IEnumerable<JournalEntry> record) => record
        .Where(entry => entry.Type == "watch.alerted")
        .Select(entry => (string.Join(':', Text(entry, "alert").Split(':').Where((_, part) => part != 1)), entry.Time));

    private static string Text(JournalEntry entry, string name) => Member(entry, name).GetString()!;

    private static long Number(JournalEntry entry, string name) => Member(entry, name).GetInt64();

    private static DateTimeOffset Time(JournalEntry entry, string name) => Member(entry, name).GetDateTimeOffset();

    private static JsonElement Member(JournalEntry entry, string name)
    {
        using var document = JsonDocument.Parse(entry.Data);
        return document.RootElement.GetProperty(name).Clone();
    }
}

/// <summary>What became of the alerts of a watch room that was killed.</summary>
/// <param name="Kills">How often it was killed.</param>
/// <param name="Owed">Alerts that had to be there by what it had acknowledged.</param>
/// <param name="Recorded">Alerts in its record.</param>
internal sealed record KillCounts(int Kills, int Owed, int Recorded)
{
    /// <summary>Owed and not there.</summary>
    public required int Lost { get; init; }

    /// <summary>There more than once.</summary>
    public required int Doubled { get; init; }

    /// <summary>Raised only when the watch room had been answering for more than two seconds after it was due.</summary>
    public required int Late { get; init; }

    /// <summary>Periods in which nobody watched, long enough to be told; each gives everybody a grace.</summary>
    public required int Blind { get; init; }

    /// <summary>How late each alert was.</summary>
    public required IReadOnlyList<TimeSpan> Lateness { get; init; }

    /// <summary>How long each start took.</summary>
    public required IReadOnlyList<TimeSpan> Starts { get; init; }

    /// <summary>True when it answered with the same certificate at the end as at the beginning.</summary>
    public bool SameCertificate { get; init; }
}
