using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Journal.Tests.Support;

/// <summary>A clock that always tells the same moment.</summary>
public sealed class FixedClock : IClock
{
    public static readonly DateTimeOffset Start = new(2026, 11, 25, 18, 4, 5, 678, TimeSpan.FromHours(1));

    public Moment Now() => new(Start, "boot-one", new Ticks(5_000_000_000), new Ticks(5_000_000_000));
}
