using Companion.Domain.Events;
using Companion.Domain.Sheets;

namespace Companion.Domain.Tests.Properties;

/// <summary>Why waits are voided.</summary>
internal static class VoidChecks
{
    /// <summary>For every voided wait there is something in its turn that touches its circuit.</summary>
    public static void Hold(World world)
    {
        var sheet = world.Sheet;
        foreach (var turn in world.Turns)
        {
            var events = turn.Decision.Events;
            foreach (var voided in events.OfType<WaitVoided>())
            {
                Oracle.Claim(
                    events.Any(happened => Touches(happened, voided.Circuit, sheet)),
                    $"{voided.Wait} was voided ({voided.Reason}) by nothing that touches {voided.Circuit}");
            }
        }
    }

    private static bool Touches(JobEvent happened, CircuitId circuit, Sheet sheet) => happened switch
    {
        WayTaken or WorkStopped { Final: true } => true,
        DisturbanceReported reported => reported.Circuits.Contains(circuit)
            || sheet.Points.Any(point => reported.Points.Contains(point.Id) && point.Feeds(circuit)),
        DeadRefused refused => sheet.TestPlaces.First(place => place.Id == refused.TestPlace).Covers(circuit),
        ReadingTaken { Purpose: ReadingPurpose.Watching } => true,
        ReadingTaken taken => sheet.TestPlaces.First(place => place.Id == taken.TestPlace).Covers(circuit),
        _ => false,
    };
}
