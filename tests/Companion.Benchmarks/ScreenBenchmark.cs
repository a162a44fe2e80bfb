using System.Collections.Immutable;
using System.Diagnostics;
using System.Text.Json;
using Companion.Domain;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Time;
using Companion.Screens.Showing;

namespace Companion.Benchmarks;

/// <summary>
/// How true the countdowns are at ten turns a second, with 4, 100 and 1000 waits, and what a turn costs. The peer, ticked by the same timer
/// in the same run, is the usual countdown: it takes a tenth of a second off at every turn. Times in milliseconds and microseconds.
/// </summary>
internal static class ScreenBenchmark
{
    private const int Turns = 100;
    private const int WaitSeconds = 600;
    private const string BootId = "boot-bench";
    private static readonly TimeSpan Every = TimeSpan.FromMilliseconds(100);

    /// <summary>Runs about ten seconds for every number of waits.</summary>
    public static void Run(TextWriter output)
    {
        var sizes = new[] { 4, 100, 1000 };
        var figures = sizes.Select(waits => MeasureAsync(waits).GetAwaiter().GetResult()).ToList();
        output.WriteLine(JsonSerializer.Serialize(new { area = "screen", turns = Turns, figures }));
    }

    private static async Task<object> MeasureAsync(int waits)
    {
        var job = JobWith(waits);
        _ = Countdowns.Of(job, Now());
        var started = Now();
        var naive = Ticks.OfSeconds(WaitSeconds);
        List<double> own = [], peer = [], cost = [];
        using var timer = new PeriodicTimer(Every);
        for (var turn = 0; turn < Turns && await timer.WaitForNextTickAsync().ConfigureAwait(false); turn++)
        {
            var before = Stopwatch.GetTimestamp();
            var shown = Countdowns.Of(job with { Clock = job.Clock with { LastBoot = started.Boot } }, Now());
            cost.Add(Stopwatch.GetElapsedTime(before).TotalMicroseconds);
            naive -= Ticks.OfMilliseconds(100);
            var truth = Ticks.OfSeconds(WaitSeconds) - (Now().Boot - started.Boot);
            own.Add(Math.Abs((shown[0].Left - truth).Nanoseconds) / 1e6);
            peer.Add(Math.Abs((naive - truth).Nanoseconds) / 1e6);
        }

        return new
        {
            waits,
            errorp99ms = Percentile(own, 0.99),
            peererrorp99ms = Percentile(peer, 0.99),
            peererrorattheendms = Math.Round(peer[^1], 3),
            costp50us = Percentile(cost, 0.5),
            costp99us = Percentile(cost, 0.99),
        };
    }

    private static Job JobWith(int waits)
    {
        var runs = Enumerable.Range(1, waits).Select(number => new WaitRun(
            new WaitRule(new WaitId($"wait-{number}"), $"circuit {number}", new CircuitId($"circuit-{number}"), WaitSeconds), number, Ticks.Zero, null));
        var now = Now();
        return new Job
        {
            Id = "job-bench",
            Sequence = waits,
            Clock = JobClock.Begin(now, now.Wall),
            Technician = "bench",
            Waits = runs.ToImmutableDictionary(run => run.Rule.Id),
        };
    }

    private static Moment Now()
    {
        var ticks = new Ticks((long)(Stopwatch.GetTimestamp() * (1e9 / Stopwatch.Frequency)));
        return new Moment(DateTimeOffset.UtcNow, BootId, ticks, ticks);
    }

    private static double Percentile(List<double> values, double share) =>
        Math.Round(values.Order().ElementAt(Math.Min(values.Count - 1, (int)(values.Count * share))), 3);
}
