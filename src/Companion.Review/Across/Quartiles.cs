using System.Collections.Immutable;

namespace Companion.Review.Across;

/// <summary>
/// Median and quartiles of a set of figures. The definition is that of the NIST/SEMATECH e-Handbook, 7.2.6.2 (type 6 of Hyndman and Fan 1996):
/// the p-th quantile stands at place p(n+1) of the ordered figures, straight between its neighbours, and at the ends where there is no neighbour.
/// </summary>
/// <param name="Count">How many figures.</param>
/// <param name="Lower">A quarter of them is below.</param>
/// <param name="Median">Half of them is below.</param>
/// <param name="Upper">A quarter of them is above.</param>
public sealed record Quartiles(int Count, decimal Lower, decimal Median, decimal Upper)
{
    /// <summary>The quartiles of at least one figure.</summary>
    /// <exception cref="ArgumentException">There is none.</exception>
    public static Quartiles Of(IEnumerable<decimal> figures)
    {
        var ordered = figures.Order().ToImmutableArray();
        return new Quartiles(ordered.Length, At(ordered, 0.25m), At(ordered, 0.5m), At(ordered, 0.75m));
    }

    /// <summary>A quantile of ordered figures.</summary>
    /// <exception cref="ArgumentException">There is none.</exception>
    public static decimal At(ImmutableArray<decimal> ordered, decimal share)
    {
        if (ordered.IsDefaultOrEmpty)
        {
            throw new ArgumentException("Quartiles need at least one figure.", nameof(ordered));
        }

        var place = share * (ordered.Length + 1);
        var whole = (int)decimal.Truncate(place);
        return whole < 1 ? ordered[0]
            : whole >= ordered.Length ? ordered[^1]
            : ordered[whole - 1] + ((place - whole) * (ordered[whole] - ordered[whole - 1]));
    }
}
