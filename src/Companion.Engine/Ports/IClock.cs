using Companion.Domain.Time;

namespace Companion.Engine.Ports;

/// <summary>Tells the moment: the real clocks of the tablet, or simulated ones in a rehearsal or the simulator.</summary>
public interface IClock
{
    /// <summary>The moment now, on all clocks at once. Callable from any thread.</summary>
    Moment Now();
}
