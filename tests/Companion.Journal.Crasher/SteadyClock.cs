using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Journal.Crasher;

/// <summary>A clock that stands still: what is tested here does not depend on time.</summary>
internal sealed class SteadyClock : IClock
{
    public static readonly DateTimeOffset Start = new(2026, 11, 25, 18, 0, 0, TimeSpan.FromHours(1));

    public Moment Now() => new(Start, "boot-one", Ticks.Zero, Ticks.Zero);
}
