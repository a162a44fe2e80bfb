using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Voice.Audio;

namespace Companion.Voice.Tests.Support;

/// <summary>A clock that stands until a test moves it, or that a pace moves on.</summary>
public sealed class ManualClock : IClock, IPace
{
    private readonly Lock gate = new();
    private long nanoseconds = Ticks.PerSecond;

    public Moment Now()
    {
        lock (gate)
        {
            var boot = new Ticks(nanoseconds);
            return new Moment(new DateTimeOffset(2026, 11, 25, 8, 0, 0, TimeSpan.Zero).AddTicks(nanoseconds / 100), "boot", boot, boot);
        }
    }

    public void Advance(TimeSpan length)
    {
        lock (gate)
        {
            nanoseconds += length.Ticks * 100;
        }
    }

    public void Pass(TimeSpan length, CancellationToken cancellation) => Advance(length);
}
