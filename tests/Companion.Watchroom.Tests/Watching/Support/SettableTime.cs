namespace Companion.Watchroom.Tests.Watching.Support;

/// <summary>A clock that stands still until a test moves it; its timers never fire, so that only the test's own pulses look at deadlines.</summary>
public sealed class SettableTime : TimeProvider
{
    public static readonly DateTimeOffset Zero = new(2026, 11, 25, 6, 0, 0, TimeSpan.Zero);

    private long ticks;

    /// <summary>Seconds since <see cref="Zero"/>.</summary>
    public double Seconds
    {
        get => new TimeSpan(Volatile.Read(ref ticks)).TotalSeconds;
        set => Volatile.Write(ref ticks, Span(value).Ticks);
    }

    /// <summary>By how many seconds somebody set the time of day; the time since the machine's start goes on.</summary>
    public double WallSetBy { get; set; }

    /// <summary>Whole milliseconds, so that sums of tenths of seconds stay comparable.</summary>
    public static TimeSpan Span(double seconds) => TimeSpan.FromMilliseconds((long)Math.Round(seconds * 1000));

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override DateTimeOffset GetUtcNow() => Zero.AddTicks(Volatile.Read(ref ticks)) + Span(WallSetBy);

    public override long GetTimestamp() => Math.Max(0, Volatile.Read(ref ticks));

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
