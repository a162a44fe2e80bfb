using System.Diagnostics;
using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Pages.Replay;
using Companion.Review;
using Companion.Review.Replaying;
using Companion.TestKit;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Companion.Benchmarks;

/// <summary>
/// What a replay costs against the length of the record: to open, to seek anywhere, to play on at 60 times, to draw. The peer, over the same
/// entries in the same run, folds from the first entry for every seek. Milliseconds for what happens once, microseconds for what happens often.
/// </summary>
internal static class ReplayBenchmark
{
    private const int Seeks = 200;
    private const int PeerSeeks = 20;
    private const int Pictures = 100;

    /// <summary>How far a replay at 60 times goes between two pictures, which the page asks for ten times a second at most.</summary>
    private static readonly TimeSpan Stride = TimeSpan.FromSeconds(6);

    /// <summary>The figures of every length.</summary>
    public static async Task<object> MeasureAsync(params int[] lengths)
    {
        var all = await EntriesAsync(lengths.Max()).ConfigureAwait(false);
        await using var services = new ServiceCollection().AddLogging().BuildServiceProvider();
        await using var renderer = new HtmlRenderer(services, services.GetRequiredService<ILoggerFactory>());
        await MeasureAsync(renderer, all, lengths.Min()).ConfigureAwait(false);
        var figures = new List<object>();
        foreach (var length in lengths)
        {
            figures.Add(await MeasureAsync(renderer, all, length).ConfigureAwait(false));
        }

        return new { seeks = Seeks, peerseeks = PeerSeeks, pictures = Pictures, figures };
    }

    private static async Task<object> MeasureAsync(HtmlRenderer renderer, IReadOnlyList<JournalEntry> all, int length)
    {
        RecordedJob? record = null;
        var open = Timed(() => record = RecordedJob.Of("job-1", all.Take(length)));
        var replay = new JobReplay(record!);
        var first = Timed(() => replay.After(length));
        var chance = new Random(length);
        var seeks = Enumerable.Range(0, Seeks).Select(_ => chance.Next(length)).ToList();
        var seek = seeks.Select(count => Timed(() => replay.After(count))).ToList();
        var peer = seeks.Take(PeerSeeks).Select(count => Timed(() => record!.Entries.Take(count).Aggregate(ReplayState.Before, ReplayFold.Next))).ToList();
        var play = Enumerable.Range(0, Pictures).Select(n => Timed(() => ReplayScreen.At(replay, n * Stride))).ToList();
        var (draw, bytes) = await DrawAsync(renderer, replay, seeks).ConfigureAwait(false);
        return new
        {
            length,
            openms = Milliseconds(open),
            firstseektoendms = Milliseconds(first),
            statesapart = replay.Apart,
            stateskept = replay.Kept,
            seekp50us = Percentile(seek, 0.5),
            seekp99us = Percentile(seek, 0.99),
            peerseekp50us = Percentile(peer, 0.5),
            peerseekp99us = Percentile(peer, 0.99),
            play60p50us = Percentile(play, 0.5),
            play60p99us = Percentile(play, 0.99),
            drawp50us = Percentile(draw, 0.5),
            drawp99us = Percentile(draw, 0.99),
            picturebytes = bytes,
        };
    }

    /// <summary>A seek, its screen and its picture as HTML: all that the server does for one picture.</summary>
    private static async Task<(List<TimeSpan> Costs, int Bytes)> DrawAsync(HtmlRenderer renderer, JobReplay replay, List<int> seeks)
    {
        List<TimeSpan> costs = [];
        var bytes = 0;
        foreach (var count in seeks.Take(Pictures))
        {
            var before = Stopwatch.GetTimestamp();
            var html = await renderer.Dispatcher.InvokeAsync(async () => (await renderer.RenderComponentAsync<ReplayPicture>(ParameterView.FromDictionary(
                new Dictionary<string, object?> { [nameof(ReplayPicture.Place)] = new ReplayPlace(replay, ReplayScreen.After(replay, count)) })).ConfigureAwait(false)).ToHtmlString()).ConfigureAwait(false);
            costs.Add(Stopwatch.GetElapsedTime(before));
            bytes = Math.Max(bytes, System.Text.Encoding.UTF8.GetByteCount(html));
        }

        return (costs, bytes);
    }

    /// <summary>A job of the real engine that somebody is impatient in: claims that are refused, prompts, anchors of the clock.</summary>
    public static async Task<IReadOnlyList<JournalEntry>> EntriesAsync(int length)
    {
        var bench = await (await new EngineBench().OpenAsync().ConfigureAwait(false)).UntilAsync(NeedKind.WaitOver).ConfigureAwait(false);
        while (bench.Job!.Sequence < length)
        {
            await bench.SayAsync(Phrase.ProvedDead).ConfigureAwait(false);
            await bench.SayAsync(Phrase.HowLong).ConfigureAwait(false);
            await bench.PassAsync(10).ConfigureAwait(false);
        }

        return bench.Journal.Read("job-1");
    }

    private static TimeSpan Timed(Func<object?> act)
    {
        var before = Stopwatch.GetTimestamp();
        act();
        return Stopwatch.GetElapsedTime(before);
    }

    private static double Milliseconds(TimeSpan span) => Math.Round(span.TotalMilliseconds, 2);

    private static double Percentile(List<TimeSpan> values, double share) =>
        Math.Round(values.Order().ElementAt(Math.Min(values.Count - 1, (int)(values.Count * share))).TotalMicroseconds, 1);
}
