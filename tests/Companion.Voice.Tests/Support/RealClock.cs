using System.Diagnostics;
using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Voice.Tests.Support;

/// <summary>The machine's monotonic clock.</summary>
public sealed class RealClock : IClock
{
    public Moment Now()
    {
        var ticks = new Ticks((long)Stopwatch.GetElapsedTime(0).TotalNanoseconds);
        return new Moment(DateTimeOffset.UtcNow, "boot", ticks, ticks);
    }
}
