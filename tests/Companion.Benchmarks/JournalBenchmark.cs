using System.Diagnostics;
using System.Globalization;
using Companion.Contracts;
using Companion.Journal;
using Companion.Journal.Disk;
using Companion.Journal.Proof;

namespace Companion.Benchmarks;

/// <summary>
/// Durable appends of the journal beside the floor of the disk: one write and one fsync of the very same bytes, turn by turn in the
/// same run, so that other load on the machine meets both alike. Then how fast a store opens, reads and verifies. Times in microseconds.
/// </summary>
internal static class JournalBenchmark
{
    private const int DefaultAppends = 2000;
    private const int WarmUp = 50;

    /// <summary>Runs; the first argument is the number of appends, the second a folder on the disk to measure.</summary>
    public static async Task<object> RunAsync(string[] args)
    {
        var appends = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : DefaultAppends;
        var folder = Directory.CreateDirectory(Path.Combine(args.Length > 1 ? args[1] : Path.GetTempPath(), $"companion-bench-{Environment.ProcessId}"));
        try
        {
            return await MeasureAsync(folder.FullName, appends);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task<object> MeasureAsync(string folder, int appends)
    {
        var disk = new LocalDisk();
        var directory = Path.Combine(folder, "store");
        var options = new StoreOptions(new SteadyClock()) { Kind = StoreKind.Rehearsal };
        var journal = new Times();
        var raw = new Times();
        long entryBytes;
        await using (var store = await JournalStore.OpenAsync(directory, options))
        {
            using var floor = disk.Open(Path.Combine(folder, "floor"));
            entryBytes = await InterleaveAsync(store, floor, appends, journal, raw);
        }

        var opening = Stopwatch.StartNew();
        await using var again = await JournalStore.OpenAsync(directory, options);
        var openMilliseconds = opening.Elapsed.TotalMilliseconds;
        var reading = Stopwatch.StartNew();
        var read = again.Read(SteadyClock.Job).Count;
        var readMilliseconds = reading.Elapsed.TotalMilliseconds;
        var verifying = Stopwatch.StartNew();
        var report = JournalVerifier.Verify(directory);
        return new
        {
            area = "journal",
            appends,
            entrybytes = entryBytes / (appends + WarmUp),
            journal = journal.Summary(),
            rawappendfsync = raw.Summary(),
            ratio50 = Math.Round(journal.Percentile(50) / raw.Percentile(50), 2),
            ratio99 = Math.Round(journal.Percentile(99) / raw.Percentile(99), 2),
            open = new { entries = read, milliseconds = Math.Round(openMilliseconds, 1) },
            read = new { entries = read, milliseconds = Math.Round(readMilliseconds, 1) },
            verify = new { entries = report.Entries, milliseconds = Math.Round(verifying.Elapsed.TotalMilliseconds, 1), sound = report.IsSound },
        };
    }

    private static async Task<long> InterleaveAsync(JournalStore store, IDiskFile floor, int appends, Times journal, Times raw)
    {
        var offset = 0L;
        for (var i = -WarmUp; i < appends; i++)
        {
            var start = Stopwatch.GetTimestamp();
            var entries = await store.AppendAsync([SteadyClock.Draft(i + WarmUp)]);
            var middle = Stopwatch.GetTimestamp();
            var bytes = entries[0].Bytes;
            var rawStart = Stopwatch.GetTimestamp();
            floor.Write(offset, bytes.Span);
            floor.Sync();
            var end = Stopwatch.GetTimestamp();
            offset += bytes.Length;
            if (i >= 0)
            {
                journal.Add(Stopwatch.GetElapsedTime(start, middle));
                raw.Add(Stopwatch.GetElapsedTime(rawStart, end));
            }
        }

        return offset;
    }
}
