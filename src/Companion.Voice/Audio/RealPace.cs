namespace Companion.Voice.Audio;

/// <summary>
/// Time passes by the given clock, N times as fast in a rehearsal. Keeps a schedule, so that short sleeps do not add up to a drift.
/// </summary>
public sealed class RealPace : IPace
{
    private readonly TimeProvider clock;
    private readonly double speed;
    private readonly Lock gate = new();
    private long due;

    /// <summary>A pace of its own for one source or sink.</summary>
    /// <param name="clock">The clock to go by.</param>
    /// <param name="speed">1 for real; more only in a rehearsal (I14).</param>
    public RealPace(TimeProvider clock, double speed = 1)
    {
        ArgumentNullException.ThrowIfNull(clock);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(speed);
        this.clock = clock;
        this.speed = speed;
        due = clock.GetTimestamp();
    }

    /// <inheritdoc/>
    public void Pass(TimeSpan length, CancellationToken cancellation)
    {
        TimeSpan left;
        lock (gate)
        {
            var now = clock.GetTimestamp();
            var step = (long)(length.TotalSeconds / speed * clock.TimestampFrequency);

            // More than half a second late (a suspended process): start a new schedule instead of racing to catch up.
            due = (now > due + (clock.TimestampFrequency / 2) ? now : due) + step;
            left = clock.GetElapsedTime(now, due);
        }

        if (left > TimeSpan.Zero)
        {
            cancellation.WaitHandle.WaitOne(left);
        }
    }
}
