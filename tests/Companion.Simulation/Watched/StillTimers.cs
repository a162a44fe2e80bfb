namespace Companion.Simulation.Watched;

/// <summary>Another clock whose timers never fire: whatever is to happen, the world does itself. Any thread.</summary>
internal sealed class StillTimers(TimeProvider clock) : TimeProvider
{
    /// <inheritdoc/>
    public override long TimestampFrequency => clock.TimestampFrequency;

    /// <inheritdoc/>
    public override long GetTimestamp() => clock.GetTimestamp();

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => clock.GetUtcNow();

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
