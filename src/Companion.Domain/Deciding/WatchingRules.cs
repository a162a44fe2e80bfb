using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Events;

namespace Companion.Domain.Deciding;

/// <summary>A watching reading is recorded and never counts. Only one that the vehicle cannot hold has an effect: it stops the job.</summary>
internal static class WatchingRules
{
    public static Refusal? Handle(Turn turn, Answer answer)
    {
        var place = turn.Job.Way?.TestPlaces.FirstOrDefault(candidate => !turn.Job.Proofs.ContainsKey(candidate.Id));
        if (place is null || TestRules.TesterOf(turn.Job, answer) is not { } tester)
        {
            return new Refusal("There is nothing to watch yet.");
        }

        if (Volts.TryParse(answer.Number) is not { } volts)
        {
            return new Refusal("Say watching, and the reading digit by digit.");
        }

        var pair = place.Pairs[0];
        turn.Add(new ReadingTaken(place.Id, pair.Id, volts, null, pair.Kind, tester.Id, ReadingPurpose.Watching));
        return TestRules.AboveHighest(turn.Job, volts)
            ? TestRules.StopForWrongSheet(turn, $"{volts} volts is more than this vehicle can hold. The sheet is the wrong one.")
            : null;
    }
}
