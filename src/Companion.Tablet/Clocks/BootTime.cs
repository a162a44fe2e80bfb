namespace Companion.Tablet.Clocks;

/// <summary>The system's time whose lengths go on while the tablet sleeps: CLOCK_BOOTTIME. Timers are the system's own. Any thread; Linux only.</summary>
internal sealed class BootTime : TimeProvider
{
    /// <summary>The one there is.</summary>
    public static readonly BootTime Provider = new();

    private readonly TabletClock _clock = new();

    private BootTime()
    {
    }

    /// <inheritdoc/>
    public override long TimestampFrequency => Domain.Time.Ticks.PerSecond;

    /// <inheritdoc/>
    public override long GetTimestamp() => _clock.Now().Boot.Nanoseconds;
}
