using Companion.Contracts;
using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Benchmarks;

/// <summary>A clock that stands still, and the drafts of a running wait: the entry written most often.</summary>
internal sealed class SteadyClock : IClock
{
    public const string Job = "job-bench";

    private static readonly DateTimeOffset Start = new(2026, 11, 25, 18, 0, 0, TimeSpan.FromHours(1));

    /// <summary>The n-th anchor of the clocks, ten seconds apart.</summary>
    public static EntryDraft Draft(int n) => new(
        Job, "clock.anchored", Start.AddSeconds(10 * n), "boot-one", n * 10_000_000_000L, """{"why":"tick"}""", new Dictionary<string, string>());

    public Moment Now() => new(Start, "boot-one", Ticks.Zero, Ticks.Zero);
}
