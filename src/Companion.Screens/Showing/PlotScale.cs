using System.Collections.Immutable;

namespace Companion.Screens.Showing;

/// <summary>One axis of a drawing: round steps, few enough to be read at arm's length.</summary>
/// <param name="Most">Its end; it begins at nothing.</param>
/// <param name="Step">From tick to tick.</param>
public readonly record struct PlotScale(double Most, double Step)
{
    private const int MostTicks = 5;

    private static readonly ImmutableArray<double> SecondSteps = [5, 10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600];

    /// <summary>The ticks, the beginning included.</summary>
    public IEnumerable<double> Ticks
    {
        get
        {
            var step = Step;
            return Enumerable.Range(0, (int)(Most / step) + 1).Select(tick => tick * step);
        }
    }

    /// <summary>An axis of volts that ends on a tick at or above the largest: steps of 1, 2 or 5 times a power of ten.</summary>
    public static PlotScale OfVolts(double largest)
    {
        var power = Math.Pow(10, Math.Floor(Math.Log10(largest / MostTicks)));
        var step = new[] { 1, 2, 5, 10 }.Select(factor => factor * power).First(step => step * MostTicks >= largest);
        return new PlotScale(Math.Ceiling(largest / step) * step, step);
    }

    /// <summary>An axis of seconds that ends where it is said; steps that a clock has.</summary>
    public static PlotScale OfSeconds(double seconds) =>
        new(seconds, SecondSteps.FirstOrDefault(step => step * MostTicks >= seconds, Math.Ceiling(seconds / MostTicks / 3600) * 3600));
}
