using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Speaking;

namespace Companion.Domain.Deciding;

/// <summary>
/// A watching reading is recorded and never counts for a proof. It can only take away: one that the vehicle cannot hold stops the job, one
/// above the limit in the middle of the dead test ends it as live, one after every place was proved means that voltage has built up again (29 CFR 1910.147(d)(5)(ii)), and before that several
/// together may show that the circuit does not discharge as the waits assume.
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
            return TestRules.StopForWrongSheet(turn, $"{Speaking.Wording.Digits(volts.ToString())} volts is more than this vehicle can hold. The sheet is the wrong one.");
        }

        if (turn.Job.Test?.Place == place.Id && !VoltageLimits.Passes(volts, place.Limit(pair.Kind)))
        {
            TestRules.Live(turn, place, pair, volts);
            return null;
        }

        if (unproved is not null)
        {
            Weigh(turn, unproved, volts, pair.Kind);
            return null;
        }

        if (places.Any(proved => !VoltageLimits.Passes(volts, proved.Limit(pair.Kind))))
        {
            VoidRules.VoidEverythingOn(turn, _ => true, "voltage has built up again");
            turn.Add(new AlertRaised(AlarmKind.Live, $"Live. {Speaking.Wording.Digits(volts.ToString())} volts have built up again. Hands off, stand clear. The wait begins again."));
        }

        return null;
    }

    /// <summary>Everything on the place's circuits begins again; the series of readings too, so that the same readings warn once.</summary>
    private static void Weigh(Turn turn, TestPlace place, Volts volts, VoltageKind kind)
    {
        if (Watching.FindingOf(turn.Job) is not { TakesAway: true, Verdict: var verdict })
        {
            return;
        }

        var live = !VoltageLimits.Passes(volts, place.Limit(kind));
        VoidRules.VoidEverythingOn(turn, place.Covers, DischargeWording.Reason(verdict));
        var alarm = live && verdict is not DischargeVerdict.TooSlow ? AlarmKind.Live : AlarmKind.Void;
        turn.Add(new AlertRaised(alarm, DischargeWording.Warning(verdict, live)));
    }
}
