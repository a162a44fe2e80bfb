using System.Globalization;
using Companion.Domain.Arrival;
using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Domain.Deciding;

/// <summary>The heat watch: temperatures taken from outside the stand-off. A rise sends everybody further away.</summary>
internal static class HeatRules
{
    private const decimal Coldest = -60;
    private const decimal Hottest = 1500;

    public static Refusal? Take(Turn turn, Answer answer)
    {
        if (turn.Job.StandOff is null)
        {
            return new Refusal("A temperature is for the heat watch, after leave now.");
        }

        const NumberStyles styles = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint;
        if (!decimal.TryParse(answer.Number, styles, CultureInfo.InvariantCulture, out var degrees) || degrees is < Coldest or > Hottest)
        {
            return new Refusal("Say temperature, and the degrees digit by digit.");
        }

        turn.Add(new TemperatureTaken((int)decimal.Round(degrees * 10)));
        if (HeatTrend.Of(turn.Job.StandOff.Heat).IsRising)
        {
            turn.Add(new AlertRaised(AlarmKind.Stop, "The temperature rises. Leave. Go further away, upwind, and tell the fire service."));
        }

        return null;
    }
}
