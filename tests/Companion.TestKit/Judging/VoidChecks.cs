using Companion.Domain;
using Companion.Domain.Events;
using Companion.Domain.Sheets;

namespace Companion.TestKit.Judging;

/// <summary>Why waits are voided.</summary>
public static class VoidChecks
{
    /// <summary>For every voided wait of a turn there is something in its turn that touches its circuit.</summary>
    public static void Hold(Turned turn, Sheet sheet)
    {
        var events = turn.Decision.Events;
        foreach (var voided in events.OfType<WaitVoided>())
        {
            Oracle.Claim(
                events.Any(happened => Touches(happened, voided.Circuit, sheet) || BuiltUp(happened, turn)),
                $"I5: {voided.Wait} was voided ({voided.Reason}) by nothing that touches {voided.Circuit}");
        }
    }

    /// <summary>True when the place is named to prove the opening of a point that was undone.</summary>
    public static bool Names(TestPlace place, DisturbanceReported reported) =>
        !place.Points.IsDefaultOrEmpty && reported.Points.Any(place.Points.Contains);

    /// <summary>Once every place is proved, voltage that is there again touches everything.</summary>
    private static bool BuiltUp(JobEvent happened, Turned turn) =>
        happened is ReadingTaken { Purpose: ReadingPurpose.Watching } && turn.Before?.Way?.TestPlaces.All(place => turn.Before.Proofs.ContainsKey(place.Id)) == true;

    private static bool Touches(JobEvent happened, CircuitId circuit, Sheet sheet) => happened switch
    {
        WayTaken or WorkStopped { Final: true } or PhaseEntered { Which: JobPhase.PuttingBack } => true,
        DisturbanceReported reported => reported.Circuits.Contains(circuit)
            || sheet.Points.Any(point => reported.Points.Contains(point.Id) && point.Feeds(circuit)),
        DeadRefused refused => sheet.TestPlaces.First(place => place.Id == refused.TestPlace).Covers(circuit),
        ReadingTaken taken => sheet.TestPlaces.First(place => place.Id == taken.TestPlace).Covers(circuit),
        _ => false,
    };
}
