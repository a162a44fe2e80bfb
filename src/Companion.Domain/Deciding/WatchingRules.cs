using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Domain.Deciding;

/// <summary>
/// A watching reading is recorded and never counts for a proof. It can only take away: one that the vehicle cannot hold stops the job, and one
/// above the limit after every place was proved means that voltage has built up again (29 CFR 1910.147(d)(5)(ii)).
/// </summary>
internal static class WatchingRules
{
    public static Refusal? Handle(Turn turn, Answer answer)
    {
        var places = turn.Job.Way?.TestPlaces ?? [];
        var unproved = places.FirstOrDefault(candidate => !turn.Job.Proofs.ContainsKey(candidate.Id));
        if (places.IsEmpty || TestRules.TesterOf(turn.Job, answer) is not { } tester)
        {
            return new Refusal("There is nothing to watch yet.");
        }

        if (Volts.TryParse(answer.Number) is not { } volts)
        {
            return new Refusal("Say watching, and the reading digit by digit.");
        }

        var place = unproved ?? places[^1];
        var pair = place.Pairs[0];
        turn.Add(new ReadingTaken(place.Id, pair.Id, volts, null, pair.Kind, tester.Id, ReadingPurpose.Watching));
        if (TestRules.AboveHighest(turn.Job, volts))
        {
            return TestRules.StopForWrongSheet(turn, $"{volts} volts is more than this vehicle can hold. The sheet is the wrong one.");
        }

        if (unproved is null && places.Any(proved => !VoltageLimits.Passes(volts, proved.Limit(pair.Kind))))
        {
            VoidRules.VoidEverythingOn(turn, _ => true, "voltage has built up again");
            turn.Add(new AlertRaised(AlarmKind.Live, $"Live. {volts} volts have built up again. Hands off, stand clear. The wait begins again."));
        }

        return null;
    }
}
