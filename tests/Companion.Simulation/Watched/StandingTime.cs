using Companion.Domain.Time;

namespace Companion.Simulation.Watched;

/// <summary>A clock that a world moves; its timers are the system's. Any thread.</summary>
/// <param name="start">The time of day at zero.</param>
/// <param name="now">What has passed since.</param>
internal sealed class StandingTime(DateTimeOffset start, Func<Ticks> now) : TimeProvider
{
    /// <inheritdoc/>
    public override long TimestampFrequency => Ticks.PerSecond;

    /// <inheritdoc/>
    public override long GetTimestamp() => now().Nanoseconds;

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => start.AddTicks(now().Nanoseconds / 100);
}
