using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using Companion.Contracts;
using Companion.Journal.Frames;
using Companion.Review;
using Companion.Review.Lines;
using Companion.Review.Remarking;

namespace Companion.Benchmarks.Review;

/// <summary>
/// What a record's page costs by its real route against the length of the record: to open, to draw another window of its timeline, to seek in its replay;
/// and of which parts the opening consists. The peer, in the same run, reads the same bytes and parses each line as JSON, and does nothing with it.
/// </summary>
internal static class PageBenchmark
{
    private const int MostTimes = 50;
    private const int LeastTimes = 5;

    /// <summary>So many entries are opened at one length, whatever the length, within the limits above.</summary>
    private const int EntriesOpened = 100_000;

    private const int PromisedMilliseconds = 1000;
    private const int PromisedLength = 10_000;
    private const string Job = "job-1";
    private static readonly int[] DefaultLengths = [100, 1_000, 10_000, 100_000];

    /// <summary>Runs; the numbers are the lengths.</summary>
    public static async Task<object> RunAsync(int[] numbers)
    {
        var lengths = numbers.Length > 0 ? numbers : DefaultLengths;
        var all = await ReplayBenchmark.EntriesAsync(lengths.Max());
        await MeasureAsync(all, lengths.Min());
        var figures = new List<object>();
        foreach (var length in lengths)
        {
            figures.Add(await MeasureAsync(all, length));
        }

        return new { promisedms = PromisedMilliseconds, promisedto = PromisedLength, figures };
    }

    private static async Task<object> MeasureAsync(IReadOnlyList<JournalEntry> all, int length)
    {
        using var store = new ReceivedStore();
        await store.TakeAsync(all.Take(length), Job);
        await using var host = await RecordHost.StartAsync(store.Records);
        var name = new RecordName(store.Device, Job);
        var span = (long)Timeline.Of(store.Records.Open(name)!).Length / 1_000_000;
        var (page, chance, times) = ($"/jobs/{store.Device}/{Job}", new Random(length), Math.Clamp(EntriesOpened / length, LeastTimes, MostTimes));
        Times open = new(), window = new(), seek = new(), peer = new();
        Times read = new(), timeline = new(), remarks = new();
        int pageBytes = 0, windowBytes = 0, pictureBytes = 0;
        var first = (await host.GetAsync($"{page}/at?ms=0")).Took;
        for (var turn = 0; turn < times; turn++)
        {
            pageBytes = await AskAsync(host, open, page);
            peer.Add(Timed(() => ParseAlone(store)));
            var from = chance.NextInt64(span);
            windowBytes = Math.Max(windowBytes, await AskAsync(host, window, string.Create(CultureInfo.InvariantCulture, $"{page}/line?from={from}&to={from + (span / 10)}")));
            pictureBytes = Math.Max(pictureBytes, await AskAsync(host, seek, string.Create(CultureInfo.InvariantCulture, $"{page}/at?ms={chance.NextInt64(span)}")));
            RecordedJob? job = null;
            read.Add(Timed(() => job = store.Records.Open(name)));
            timeline.Add(Timed(() => Timeline.Of(job!)));
            remarks.Add(Timed(() => Remarks.Of(job!)));
        }

        return new
        {
            length,
            bytes = store.Files.Sum(file => new FileInfo(file).Length),
            open = open.Milliseconds(),
            withinpromise = length > PromisedLength ? (bool?)null : open.Percentile(99) < PromisedMilliseconds * 1000,
            openhtmlbytes = pageBytes,
            ofwhich = new { read = read.Milliseconds(), timeline = timeline.Milliseconds(), remarks = remarks.Milliseconds() },
            window = window.Milliseconds(),
            windowhtmlbytes = windowBytes,
            firstseekms = Math.Round(first.TotalMilliseconds, 2),
            seek = seek.Milliseconds(),
            picturehtmlbytes = pictureBytes,
            peerreadandparse = peer.Milliseconds(),
            ratio50open = open.Ratio(peer, 50),
            ratio50window = window.Ratio(peer, 50),
        };
    }

    private static async Task<int> AskAsync(RecordHost host, Times times, string path)
    {
        var (took, bytes) = await host.GetAsync(path);
        times.Add(took);
        return bytes;
    }

    private static int ParseAlone(ReceivedStore store)
    {
        var objects = 0;
        foreach (var file in store.Files)
        {
            // The lines lie in frames; without their headers the file is lines.
            var bytes = File.ReadAllBytes(file);
            for (var at = 0; at < bytes.Length;)
            {
                var length = BitConverter.ToInt32(bytes, at);
                at += FrameFile.HeaderLength;
                foreach (var line in EntryBatch.Split(bytes.AsMemory(at, length)))
                {
                    using var document = JsonDocument.Parse(line);
                    objects += document.RootElement.ValueKind == JsonValueKind.Object ? 1 : 0;
                }

                at += length;
            }
        }

        return objects;
    }

    private static TimeSpan Timed(Func<object?> act)
    {
        var since = Stopwatch.GetTimestamp();
        act();
        return Stopwatch.GetElapsedTime(since);
    }
}
