using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Journal;
using Companion.Watchroom.Watching;

namespace Companion.Benchmarks.Watchroom;

/// <summary>
/// How late "overdue" is among more and more watched workers, while the others' beats come in every five seconds, as far as one machine gets. Seen as
/// a page would see it: in the view, looked at every ten milliseconds, which is part of the figure. The peer, in the same run, is one system timer
/// for each of the same deadlines.
/// </summary>
internal static class OverdueBenchmark
{
    private const int Missing = 1000;
    private const int SpreadSeconds = 10;
    private const int BeatSeconds = 5;
    private const int BeatsAtOnce = 500;
    private static readonly int[] DefaultSizes = [1000, 10_000, 100_000];

    /// <summary>Runs; the numbers are those of workers, a thousand at least.</summary>
    public static async Task<object> RunAsync(int[] numbers)
    {
        var folder = Directory.CreateTempSubdirectory("companion-bench-overdue-");
        try
        {
            var sizes = new List<(object Figures, Times Late)>();
            foreach (var size in numbers.Length > 0 ? numbers : DefaultSizes)
            {
                sizes.Add(await LatenessAsync(Path.Combine(folder.FullName, $"watch-{size}"), Math.Max(Missing, size)));
            }

            return new { sizes = sizes.Select(size => size.Figures), growth50 = sizes[^1].Late.Ratio(sizes[0].Late, 50), growth99 = sizes[^1].Late.Ratio(sizes[0].Late, 99) };
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    /// <summary>A thousand of the workers miss their check-in, spread over ten seconds; all the others go on.</summary>
    private static async Task<(object Figures, Times Late)> LatenessAsync(string folder, int workers)
    {
        var time = new SteadyTime();
        await using var journal = await JournalStore.OpenAsync(Path.Combine(folder, "journal"), new StoreOptions(new SteadyClock()) { Kind = StoreKind.Real });
        await using var keeper = await WatchKeeper.OpenAsync(
            journal, time, new WatchOptions(Path.Combine(folder, "watch")) { SilentAfter = TimeSpan.FromDays(1), StalledAfter = TimeSpan.FromHours(1) });
        var setUp = Stopwatch.StartNew();
        await BeatAllAsync(keeper, Enumerable.Range(Missing, workers - Missing), 6 * 3600);
        var opened = setUp.Elapsed.TotalSeconds;
        for (var second = 0; second < SpreadSeconds; second++)
        {
            await BeatAllAsync(keeper, Enumerable.Range(second * Missing / SpreadSeconds, Missing / SpreadSeconds), BeatSeconds + second);
        }

        var due = keeper.View.Watches.Where(watch => int.Parse(watch.Job["job-".Length..], CultureInfo.InvariantCulture) < Missing)
            .ToDictionary(watch => watch.Job, watch => watch.OverdueFrom!.Value);
        using var end = new CancellationTokenSource();
        var beats = Task.Run(() => GoOnAsync(keeper, workers, end.Token));
        using var timers = new PeerTimers(due.Values, time);
        var late = await SeenAsync(keeper, due, time);
        await end.CancelAsync();
        var (sent, seconds) = await beats;
        var peer = timers.Late();
        return (new
        {
            workers,
            missing = due.Count,
            raised = late.Count,
            beatsasked = (workers - Missing) / BeatSeconds,
            beatspersecond = Math.Round(sent / seconds),
            openedpersecond = workers > Missing ? Math.Round((workers - Missing) / opened) : 0,
            late = late.Milliseconds(),
            peertimers = peer.Milliseconds(),
            ratio50 = late.Ratio(peer, 50),
            ratio99 = late.Ratio(peer, 99),
        }, late);
    }

    private static async Task<Times> SeenAsync(WatchKeeper keeper, Dictionary<string, DateTimeOffset> due, TimeProvider time)
    {
        var late = new Times();
        var seen = new HashSet<string>();
        var patience = Stopwatch.StartNew();
        while (seen.Count < due.Count && patience.Elapsed < TimeSpan.FromMinutes(3))
        {
            await Task.Delay(10);
            var alerts = keeper.View.Alerts;
            var now = time.GetUtcNow();
            foreach (var alert in alerts.Where(alert => due.ContainsKey(alert.Job) && seen.Add(alert.Job)))
            {
                late.Add(now - due[alert.Job]);
            }
        }

        return late;
    }

    /// <summary>The beats of everybody who is not missing: how many in how many seconds.</summary>
    private static async Task<(long Sent, double Seconds)> GoOnAsync(WatchKeeper keeper, int workers, CancellationToken end)
    {
        var running = Stopwatch.StartNew();
        var asked = (workers - Missing) / (double)BeatSeconds;
        var sent = 0L;
        while (!end.IsCancellationRequested && workers > Missing)
        {
            var owed = (long)(running.Elapsed.TotalSeconds * asked) - sent;
            if (owed <= 0)
            {
                await Task.Delay(5, CancellationToken.None);
                continue;
            }

            var some = Enumerable.Range(0, (int)Math.Min(owed, BeatsAtOnce)).Select(next => Missing + (int)((sent + next) % (workers - Missing))).ToList();
            await BeatAllAsync(keeper, some, 6 * 3600);
            sent += some.Count;
        }

        return (sent, running.Elapsed.TotalSeconds);
    }

    private static async Task BeatAllAsync(WatchKeeper keeper, IEnumerable<int> workers, int interval)
    {
        foreach (var some in workers.Chunk(2000))
        {
            await Task.WhenAll(some.Select(worker => keeper.BeatAsync($"van-{worker}", BeatOf(worker, interval)).AsTask()));
        }
    }

    private static Beat BeatOf(int worker, int interval) => new(
        $"job-{worker}", $"Technician {worker}", "working", "Mill Lane", null, new CheckInStatement(1, 0, interval, 0, "working"), [], [], true, false);

    /// <summary>One system timer for each deadline, and how late it rang.</summary>
    private sealed class PeerTimers : IDisposable
    {
        private readonly ConcurrentBag<TimeSpan> late = [];
        private readonly List<Timer> timers = [];

        public PeerTimers(IEnumerable<DateTimeOffset> due, TimeProvider time)
        {
            foreach (var at in due)
            {
                var left = at - time.GetUtcNow();
                // A timer takes whole milliseconds; rounded up, it does not ring before its time.
                timers.Add(new Timer(_ => late.Add(time.GetUtcNow() - at), null, Math.Max(0, (long)Math.Ceiling(left.TotalMilliseconds)), Timeout.Infinite));
            }
        }

        public Times Late() => Times.Of(late);

        public void Dispose() => timers.ForEach(timer => timer.Dispose());
    }
}
