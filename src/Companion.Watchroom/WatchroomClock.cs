using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Watchroom;

/// <summary>The watch room's one time, as the journal asks for it.</summary>
internal sealed class WatchroomClock(TimeProvider time) : IClock
{
    private const string BootIdFile = "/proc/sys/kernel/random/boot_id";
    private readonly string bootId = File.ReadAllText(BootIdFile).Trim();

    /// <inheritdoc/>
    public Moment Now()
    {
        var running = new Ticks((long)((Int128)time.GetTimestamp() * Ticks.PerSecond / time.TimestampFrequency));
        return new Moment(time.GetUtcNow(), bootId, running, running);
    }
}
