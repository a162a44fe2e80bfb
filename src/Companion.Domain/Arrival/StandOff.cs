using System.Collections.Immutable;
using Companion.Domain.Time;

namespace Companion.Domain.Arrival;

/// <summary>Everybody keeps away: the vehicle never enters the isolation.</summary>
/// <param name="At">Sequence of the entry.</param>
/// <param name="Reason">Why, in words.</param>
/// <param name="Centimetres">How far.</param>
public sealed record StandOff(long At, string Reason, int Centimetres)
{
    /// <summary>The heat watch: temperatures taken from outside the stand-off, in order.</summary>
    public ImmutableArray<HeatReading> Heat { get; init; } = [];
}

/// <summary>A temperature of the pack's outside, taken from outside the stand-off.</summary>
/// <param name="Tenths">Tenths of a degree Celsius.</param>
/// <param name="BootId">The running period in which it was taken.</param>
/// <param name="Boot">CLOCK_BOOTTIME of it. Readings of different periods cannot be compared.</param>
public sealed record HeatReading(int Tenths, string BootId, Ticks Boot);
