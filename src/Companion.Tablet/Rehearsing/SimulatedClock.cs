using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Tablet.Rehearsing;

/// <summary>The clocks of a rehearsal. They move only when the rehearsal moves them, so a script gives the same journal every time.</summary>
public sealed class SimulatedClock(DateTimeOffset start) : IClock
{
    private readonly Lock _gate = new();
    private DateTimeOffset _wall = start;
    private Ticks _boot = Ticks.OfSeconds(60);
    private Ticks _awake = Ticks.OfSeconds(60);

    /// <inheritdoc/>
    public Moment Now()
    {
        lock (_gate)
        {
            return new Moment(_wall, "rehearsal", _boot, _awake);
        }
    }

    /// <summary>Time passes; asleep, CLOCK_MONOTONIC stands still.</summary>
    public void Pass(Ticks span, bool asleep = false)
    {
        lock (_gate)
        {
            _boot += span;
            _awake += asleep ? Ticks.Zero : span;
            _wall = _wall.AddTicks(span.Nanoseconds / 100);
        }
    }
}
