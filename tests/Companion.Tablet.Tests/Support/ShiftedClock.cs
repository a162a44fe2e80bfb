using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Tablet.Clocks;

namespace Companion.Tablet.Tests.Support;

/// <summary>The real clocks, put forward by a test.</summary>
internal sealed class ShiftedClock : IClock
{
    private readonly TabletClock _real = new();
    private long _shift;

    /// <inheritdoc/>
    public Moment Now()
    {
        var now = _real.Now();
        var shift = new Ticks(Interlocked.Read(ref _shift));
        return now with { Boot = now.Boot + shift, Awake = now.Awake + shift, Wall = now.Wall.AddTicks(shift.Nanoseconds / 100) };
    }

    /// <summary>Puts all clocks forward.</summary>
    public void Forward(Ticks by) => Interlocked.Add(ref _shift, by.Nanoseconds);
}
