using System.Globalization;
using Companion.Domain.Arrival;
using Companion.Domain.Isolation;

namespace Companion.Domain.Speaking;

/// <summary>The words of the heat watch.</summary>
public static class HeatWording
{
    /// <summary>The last temperature and where it goes. That it does not rise is never said as good news.</summary>
    public static string Of(Job job)
    {
        var heat = job.StandOff!.Heat;
        var trend = HeatTrend.Of(heat);
        var slope = trend switch
        {
            { DegreesPerHour: null } => "First reading.",
            { Uncertainty: null } => "Too few readings for a trend.",
            _ => $"Trend {Say(trend.DegreesPerHour.Value)} degrees an hour, plus or minus {Say(Math.Abs(trend.Uncertainty.Value))}.",
        };
        return $"Recorded: {Wording.Digits((heat[^1].Tenths / 10m).ToString("0.#", CultureInfo.InvariantCulture))} degrees. {slope} It can ignite without warning.";
    }

    private static string Say(double value) => Wording.Digits(value.ToString("0.0", CultureInfo.InvariantCulture));
}
