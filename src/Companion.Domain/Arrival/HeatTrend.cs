using Companion.Domain.Electrical;
using Companion.Domain.Time;

namespace Companion.Domain.Arrival;

/// <summary>
/// Where the temperatures of a heat watch go. It can only send people away: a trend that does not rise permits nothing, for a damaged pack can
/// ignite without warning.
/// </summary>
/// <param name="Readings">How many readings it rests on.</param>
/// <param name="DegreesPerHour">Least-squares slope in degrees Celsius an hour; null for fewer than two readings at different times.</param>
/// <param name="Uncertainty">Half its 95 % interval; null for fewer than three readings.</param>
/// <param name="IsRising">True when the whole interval lies above zero, or the last reading lies <see cref="SuddenRise"/> above the lowest.</param>
public sealed record HeatTrend(int Readings, double? DegreesPerHour, double? Uncertainty, bool IsRising)
{
    /// <summary>So many tenths of a degree above the lowest reading is a rise, whatever the slope says. Common practice, no source.</summary>
    public const int SuddenRise = 50;

    /// <summary>The trend of the readings of the last running period; those before cannot be placed in time.</summary>
    public static HeatTrend Of(IReadOnlyList<HeatReading> all)
    {
        var last = all.Where(reading => reading.BootId == all[^1].BootId).ToList();
        var line = StraightLine.Through([.. last.Select(reading => ((reading.Boot - last[0].Boot).Nanoseconds / (3600.0 * Ticks.PerSecond), reading.Tenths / 10.0))]);
        var sudden = all.Count > 0 && all[^1].Tenths - all.Min(reading => reading.Tenths) >= SuddenRise;
        return new HeatTrend(last.Count, line?.Slope, line?.SlopeMargin, sudden || line?.Slope - line?.SlopeMargin > 0);
    }
}
