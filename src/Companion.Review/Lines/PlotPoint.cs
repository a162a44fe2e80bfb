using Companion.Domain.Electrical;

namespace Companion.Review.Lines;

/// <summary>A reading on the plotted line.</summary>
/// <param name="Sequence">Its entry.</param>
/// <param name="At">Nanoseconds since the chain's first entry.</param>
/// <param name="Volts">What the tester showed, without its sign; "below" is drawn at its bound.</param>
/// <param name="IsBelow">True when the tester showed less than it can tell.</param>
/// <param name="Limit">The sheet's limit; null when the sheet is missing.</param>
public sealed record PlotPoint(long Sequence, long At, Volts Volts, bool IsBelow, Volts? Limit)
{
    /// <summary>True when it stands above its limit.</summary>
    public bool IsLive => Limit is { } limit && Volts > limit;
}
