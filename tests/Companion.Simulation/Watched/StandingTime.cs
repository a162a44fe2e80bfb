using Companion.Domain.Time;

namespace Companion.Simulation.Watched;

/// <summary>A clock that a world moves. Its timers never fire: whatever is to happen, the world does itself. Any thread.</summary>
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

    /// <inheritdoc/>
    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) => new Still();

    private sealed class Still : ITimer
    {
        public bool Change(TimeSpan dueTime, TimeSpan period) => true;

        public void Dispose()
        {
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}
