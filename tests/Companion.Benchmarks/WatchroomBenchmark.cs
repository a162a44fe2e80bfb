using System.Diagnostics;
using System.Globalization;
using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Journal;
using Companion.Journal.Disk;
using Companion.Journal.Proof;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Watching;

namespace Companion.Benchmarks;

/// <summary>
/// How late "overdue" is among more and more watched workers, and how fast journals are taken beside the floor of the disk: one write and one fsync
/// of the same bytes, batch by batch in the same run.
/// </summary>
internal static class WatchroomBenchmark
{
    private const int Missing = 1000;
    private const int SpreadSeconds = 10;
    private const int Batch = 200;
    private static readonly int[] DefaultSizes = [1000, 10_000, 100_000];

    /// <summary>Runs; the arguments are the numbers of workers.</summary>
    public static async Task<object> RunAsync(string[] args)
    {
        var sizes = args.Length > 0 ? args.Select(size => int.Parse(size, CultureInfo.InvariantCulture)).ToArray() : DefaultSizes;
        var folder = Directory.CreateTempSubdirectory("companion-bench-watchroom-");
        try
        {
            var lateness = new List<object>();
            foreach (var size in sizes)
            {
                lateness.Add(await LatenessAsync(Path.Combine(folder.FullName, $"watch-{size}"), size));
            }

            return new { area = "watchroom", overdue = lateness, ingest = await IngestAsync(folder.FullName, 20_000) };
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    /// <summary>A thousand of the workers miss their check-in, spread over ten seconds; all the others go on.</summary>
    private static async Task<object> LatenessAsync(string folder, int workers)
    {
        var time = new SteadyTime();
        await using var journal = await JournalStore.OpenAsync(Path.Combine(folder, "journal"), new StoreOptions(new SteadyClock()) { Kind = StoreKind.Real });
        await using var keeper = await WatchKeeper.OpenAsync(
            journal, time, new WatchOptions(Path.Combine(folder, "watch")) { SilentAfter = TimeSpan.FromDays(1), StalledAfter = TimeSpan.FromHours(1) });
        var setUp = Stopwatch.StartNew();
        await BeatAllAsync(keeper, Enumerable.Range(Missing, Math.Max(0, workers - Missing)), 6 * 3600);
        var opened = setUp.Elapsed.TotalSeconds;
        for (var second = 0; second < SpreadSeconds; second++)
        {
            await BeatAllAsync(keeper, Enumerable.Range(second * Missing / SpreadSeconds, Missing / SpreadSeconds), 5 + second);
        }

        var due = keeper.View.Watches.Where(watch => int.Parse(watch.Job["job-".Length..], CultureInfo.InvariantCulture) < Missing)
            .ToDictionary(watch => watch.Job, watch => watch.OverdueFrom!.Value);
        var late = new JournalTimes(Missing);
        var seen = new HashSet<string>();
        var patience = Stopwatch.StartNew();
        while (seen.Count < Missing && patience.Elapsed < TimeSpan.FromMinutes(3))
        {
            await Task.Delay(10);
            var now = time.GetUtcNow();
            foreach (var alert in keeper.View.Alerts.Where(alert => due.ContainsKey(alert.Job) && seen.Add(alert.Job)))
            {
                late.Add(now - due[alert.Job]);
            }
        }

        return new
        {
            workers,
            missing = due.Count,
            raised = seen.Count,
            p50ms = Math.Round(late.Percentile(50) / 1000, 1),
            p99ms = Math.Round(late.Percentile(99) / 1000, 1),
            maxms = Math.Round(late.Percentile(100) / 1000, 1),
            openedpersecond = workers > Missing ? Math.Round((workers - Missing) / opened) : 0,
        };
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

    private static async Task<object> IngestAsync(string folder, int entries)
    {
        Guid tablet;
        List<byte[]> batches;
        await using (var store = await JournalStore.OpenAsync(Path.Combine(folder, "tablet"), new StoreOptions(new SteadyClock()) { Kind = StoreKind.Real }))
        {
            foreach (var some in Enumerable.Range(0, entries).Chunk(1000))
            {
                await store.AppendAsync([.. some.Select(SteadyClock.Draft)]);
            }

            tablet = store.TabletId;
            batches = [.. store.Read(SteadyClock.Job).Chunk(Batch).Select(BodyOf)];
        }

        using var receiver = JournalReceiver.Open(Path.Combine(folder, "received"));
        using var floor = new LocalDisk().Open(Path.Combine(folder, "floor"));
        var (taken, raw) = (new JournalTimes(batches.Count), new JournalTimes(batches.Count));
        var offset = 0L;
        foreach (var body in batches)
        {
            var start = Stopwatch.GetTimestamp();
            var receipt = await receiver.TakeAsync("van-1", tablet, body);
            taken.Add(Stopwatch.GetElapsedTime(start));
            if (receipt.Outcome != ReceiptOutcome.Taken)
            {
                throw new InvalidOperationException(receipt.Reason);
            }

            start = Stopwatch.GetTimestamp();
            floor.Write(offset, body);
            floor.Sync();
            raw.Add(Stopwatch.GetElapsedTime(start));
            offset += body.Length;
        }

        return new
        {
            entries,
            batch = Batch,
            bytes = offset,
            receiver = taken.Summary(),
            rawappendfsync = raw.Summary(),
            ratio50 = Math.Round(taken.Percentile(50) / raw.Percentile(50), 2),
            eventspersecond = Math.Round(entries / (batches.Count * taken.Mean / 1_000_000)),
        };
    }

    private static byte[] BodyOf(JournalEntry[] entries)
    {
        var body = new MemoryStream();
        foreach (var entry in entries)
        {
            body.Write(ExportLine.Of(entry).Span);
            body.WriteByte((byte)'\n');
        }

        return body.ToArray();
    }
}
