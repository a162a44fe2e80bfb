using System.Diagnostics;
using System.Text;
using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Engine.Ports;
using Companion.Review.Across;
using Companion.TestKit;

namespace Companion.Benchmarks.Review;

/// <summary>
/// Looking back over many jobs that a watch room received: the first scan, look by look as the page does it, a look when nothing and when one job has
/// changed, the figures, a search, the downloads. The peer, in the same run, reads the same files and looks for the same words in their bytes.
/// </summary>
internal static class AcrossBenchmark
{
    private const int DefaultJobs = 10_000;
    private const int Looks = 5;
    private const int EventfulEvery = 100;
    private const string OftenSaid = "wait over";
    private const string SeldomHeard = "so dark here";
    private const string NeverSaid = "no such words";

    /// <summary>Runs; the number is that of jobs. Making them takes longer than measuring.</summary>
    public static async Task<object> RunAsync(int[] numbers)
    {
        var jobs = numbers.FirstOrDefault(DefaultJobs);
        using var store = new ReceivedStore();
        var (entries, last) = await FillAsync(store, jobs);
        var library = new JobLibrary(store.Records);
        var before = Environment.CpuUsage.TotalTime;
        var scan = Scan(library);
        var processor = Environment.CpuUsage.TotalTime - before;
        var unchanged = Measure(() => Look(library));
        await store.TakeAsync([last]);
        var one = new Times();
        one.Add(Timed(() => Look(library)));
        var facts = new JobFilter().Of(Look(library).Jobs);
        string csv = string.Empty, ndjson = string.Empty;
        var (peerRead, peerFound) = Peer(store);
        var often = Measure(() => library.Search(OftenSaid, new JobFilter()));
        return new
        {
            jobs,
            entries,
            bytes = store.Files.Sum(file => new FileInfo(file).Length),
            admitted = facts.Length,
            firstscan = new { seconds = Math.Round(scan.Mean * scan.Count / 1_000_000, 1), processorseconds = Math.Round(processor.TotalSeconds, 1), looks = scan.Milliseconds() },
            unchangedlook = unchanged.Milliseconds(),
            onechangedlook = one.Milliseconds(),
            figures = Measure(() => AcrossFigures.Of(facts)).Milliseconds(),
            searchoften = often.Milliseconds(),
            searchseldom = Measure(() => library.Search(SeldomHeard, new JobFilter())).Milliseconds(),
            foundseldom = library.Search(SeldomHeard, new JobFilter(), int.MaxValue).Length,
            searchnever = Measure(() => library.Search(NeverSaid, new JobFilter())).Milliseconds(),
            csv = Measure(() => csv = AcrossExport.Csv(facts)).Milliseconds(),
            csvbytes = Encoding.UTF8.GetByteCount(csv),
            ndjson = Measure(() => ndjson = AcrossExport.Ndjson(facts)).Milliseconds(),
            ndjsonbytes = Encoding.UTF8.GetByteCount(ndjson),
            peerreadandscan = peerRead.Milliseconds(),
            peerfound = peerFound,
            ratioscantopeer = Math.Round(scan.Mean * scan.Count / peerRead.Mean, 1),
            ratio50searchtopeer = Math.Round(often.Percentile(50) / peerRead.Percentile(50), 4),
            memorymegabytes = GC.GetTotalMemory(forceFullCollection: true) / 1_000_000,
        };
    }

    private static LibraryView Look(JobLibrary library) => library.LookAsync(JobLibrary.Patience).GetAwaiter().GetResult();

    private static Times Scan(JobLibrary library)
    {
        var times = new Times();
        for (var left = 1; left > 0;)
        {
            times.Add(Timed(() => left = Look(library).Left));
        }

        return times;
    }

    /// <summary>How long it takes to read every byte, and in how many files the words stand.</summary>
    private static (Times Read, int Found) Peer(ReceivedStore store)
    {
        var (times, words, found) = (new Times(), Encoding.UTF8.GetBytes(SeldomHeard), 0);
        for (var look = 0; look < 2; look++)
        {
            times.Add(Timed(() => found = store.Files.Count(file => File.ReadAllBytes(file).AsSpan().IndexOf(words) >= 0)));
        }

        return (times, found);
    }

    /// <summary>Whole jobs, and among them some that were stopped and in which something else was heard, an hour apart.</summary>
    /// <returns>How many entries, and the last line of the last job, which has not been sent yet.</returns>
    private static async Task<(long Entries, ReadOnlyMemory<byte> Last)> FillAsync(ReceivedStore store, int jobs)
    {
        var (whole, eventful) = (await JobAsync(false), await JobAsync(true));
        var entries = 0L;
        await Parallel.ForEachAsync(Enumerable.Range(1, jobs - 1), async (job, _) =>
        {
            var lines = await store.TakeAsync(job % EventfulEvery == 0 ? eventful : whole, $"job-{job}", TimeSpan.FromHours(job));
            Interlocked.Add(ref entries, lines.Count);
        });
        var last = await store.TakeAllButLastAsync(whole, $"job-{jobs}", TimeSpan.FromHours(jobs));
        return (entries + whole.Count, last);
    }

    private static async Task<IReadOnlyList<JournalEntry>> JobAsync(bool eventful)
    {
        var bench = await (await new EngineBench().OpenAsync()).UntilAsync(NeedKind.WaitOver);
        if (eventful)
        {
            await bench.SayAsync(Phrase.ProvedDead);
            await bench.HearAsync("noise", SeldomHeard, HearingOutcome.Unsure);
            await bench.SayAsync(Phrase.Stop);
        }

        while (bench.Job is { Ended: false })
        {
            await bench.AnswerRightlyAsync();
        }

        return bench.Journal.Read("job-1");
    }

    private static Times Measure(Func<object?> act) => Times.Of(Enumerable.Range(0, Looks).Select(_ => Timed(act)).ToList());

    private static TimeSpan Timed(Func<object?> act)
    {
        var since = Stopwatch.GetTimestamp();
        act();
        return Stopwatch.GetElapsedTime(since);
    }
}
