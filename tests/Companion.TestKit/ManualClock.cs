using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.TestKit;

/// <summary>The clock port over clocks that a test moves.</summary>
public sealed class ManualClock : IClock
{
    private readonly Lock _lock = new();

    /// <summary>The clocks. Move them by <see cref="Move"/> when another thread reads them.</summary>
    public DemoTime Time { get; } = new();

    /// <inheritdoc/>
    public Moment Now()
    {
        lock (_lock)
        {
            return Time.Now;
        }
    }

    /// <summary>Moves the clocks.</summary>
    public void Move(Action<DemoTime> move)
    {
        lock (_lock)
        {
            move(Time);
        }
    }

    /// <summary>Lets whole seconds pass.</summary>
    public void Pass(long seconds) => Move(time => time.Pass(Ticks.OfSeconds(seconds)));
}
