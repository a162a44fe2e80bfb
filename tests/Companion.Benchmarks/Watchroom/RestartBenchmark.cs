using System.Diagnostics;
using System.Text.Json;
using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Journal;
using Companion.TestKit;
using Companion.Watchroom.Watching;

namespace Companion.Benchmarks.Watchroom;

/// <summary>
/// A killed watch room started again over a longer and longer chain "watch": from the start of the process until it watches and answers, which is
/// promised within two seconds, and until a check-in is recorded again, which needs the store open and verified. Peers in the same run: the same
/// program over an empty store, and reading the same files. The files are in the system's memory, as after a kill.
/// </summary>
internal static class RestartBenchmark
{
    private const int Starts = 5;
    private const int Workers = 1000;
    private const int PromisedMilliseconds = 2000;
    private static readonly int[] DefaultSizes = [1000, 10_000, 100_000];
    private static readonly TimeSpan Again = TimeSpan.FromMilliseconds(20);

    /// <summary>Runs; the numbers are those of entries.</summary>
    public static async Task<object> RunAsync(int[] numbers)
    {
        var folder = Directory.CreateTempSubdirectory("companion-bench-restart-");
        try
        {
            var empty = await WatchroomProgram.EmptyStartsAsync(folder.FullName, Starts);
            var figures = new List<object>();
            foreach (var entries in numbers.Length > 0 ? numbers : DefaultSizes)
            {
                figures.Add(await MeasureAsync(Path.Combine(folder.FullName, $"{entries}"), entries, empty));
            }

            return new { starts = Starts, promisedms = PromisedMilliseconds, peeremptystart = empty.Milliseconds(), figures };
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task<object> MeasureAsync(string folder, int entries, Times empty)
    {
        using var room = WatchroomProgram.In(Path.Combine(folder, "watchroom"));
        await room.StartAsync();
        using var tablet = await SigningTablet.PairAsync(room, Path.Combine(folder, "tablet"), Guid.NewGuid());
        room.Kill();
        await LengthenAsync(room, entries);
        Times watched = new(), open = new(), read = new();
        for (var start = 1; start <= Starts; start++)
        {
            var since = Stopwatch.GetTimestamp();
            watched.Add(await room.StartAsync());
            await RecordedAsync(room, tablet, start);
            open.Add(Stopwatch.GetElapsedTime(since));
            room.Kill();
            since = Stopwatch.GetTimestamp();
            _ = Files(room).Sum(file => (long)File.ReadAllBytes(file).Length);
            read.Add(Stopwatch.GetElapsedTime(since));
        }

        return new
        {
            entries,
            bytes = Files(room).Sum(file => new FileInfo(file).Length),
            bysnapshot = File.Exists(Path.Combine(room.Store, "watch", "watch.snapshot")),
            watched = watched.Milliseconds(),
            withinpromise = watched.Percentile(100) <= PromisedMilliseconds * 1000,
            recording = open.Milliseconds(),
            peerreadfiles = read.Milliseconds(),
            ratio50watchedtoempty = watched.Ratio(empty, 50),
            ratio50recordingtoempty = open.Ratio(empty, 50),
            ratio50recordingtoread = open.Ratio(read, 50),
        };
    }

    private static IEnumerable<string> Files(WatchroomProcess room) =>
        Directory.EnumerateFiles(room.Journal).Concat(Directory.EnumerateFiles(Path.Combine(room.Store, "watch")));

    /// <summary>A check-in is acknowledged only when it is durable.</summary>
    private static async Task RecordedAsync(WatchroomProcess room, SigningTablet tablet, long checkIn)
    {
        var body = JsonSerializer.SerializeToUtf8Bytes(BeatOf(0, checkIn), UplinkFormat.Json);
        while (true)
        {
            try
            {
                await tablet.PostAsync(room.Address, UplinkFormat.BeatPath, body);
                return;
            }
            catch (InvalidOperationException refused) when (refused.Message.StartsWith("503", StringComparison.Ordinal))
            {
                await Task.Delay(Again);
            }
        }
    }

    /// <summary>A thousand technicians check in over and over, by the watch room's own keeper and in its own store.</summary>
    private static async Task LengthenAsync(WatchroomProcess room, int entries)
    {
        await using var journal = await JournalStore.OpenAsync(room.Journal, new StoreOptions(new SteadyClock()) { Kind = StoreKind.Real });
        await using var keeper = await WatchKeeper.OpenAsync(
            journal, new SteadyTime(), new WatchOptions(Path.Combine(room.Store, "watch")) { StalledAfter = TimeSpan.FromHours(1) });
        for (var checkIn = 1; journal.MarkOf("watch").Sequence < entries; checkIn++)
        {
            var some = Math.Min(Workers, entries - (int)journal.MarkOf("watch").Sequence);
            await Task.WhenAll(Enumerable.Range(1, some).Select(worker => keeper.BeatAsync($"van-{worker}", BeatOf(worker, checkIn)).AsTask()));
        }
    }

    private static Beat BeatOf(int worker, long checkIn) => new(
        $"job-{worker}", $"Technician {worker}", "working", "Mill Lane", null, new CheckInStatement(checkIn, 0, 6 * 3600, 60, "working"), [], [], true, false);
}
