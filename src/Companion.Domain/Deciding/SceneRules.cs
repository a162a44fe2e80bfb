using Companion.Domain.Arrival;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Domain.Deciding;

/// <summary>
/// The minutes before anyone touches the vehicle. What takes away acts at once; what permits counts only with the read-back and its code (I8).
/// </summary>
internal static class SceneRules
{
    /// <summary>An item of the arrival list was answered.</summary>
    public static Refusal? Settle(Turn turn, Need need, Answer answer) => Settle(turn, need, answer, answer.Phrase switch
    {
        Phrase.Yes => SceneAnswer.Yes,
        Phrase.No => SceneAnswer.No,
        _ => SceneAnswer.Done,
    });

    /// <summary>"Cannot do": what nobody can tell counts as yes, and what cannot be mended is kept away from (I22).</summary>
    public static Refusal? CannotDo(Turn turn, Need need, Answer answer)
    {
        switch (need.Kind)
        {
            case NeedKind.SceneQuestion:
                return Settle(turn, need, answer, SceneAnswer.Yes);
            case NeedKind.SceneRemedy when ItemOf(turn.Job, need).Concern == Concern.ChargingCable:
                StandOff(turn, $"{ItemOf(turn.Job, need).Name}, not mended");
                return null;
            default:
                return InabilityRules.Stop(turn, $"Not done: {ItemOf(turn.Job, need).Name}.");
        }
    }

    /// <summary>Everybody leaves, and nothing on this job is isolated any more.</summary>
    public static void StandOff(Turn turn, string? reason)
    {
        VoidRules.StopWork(turn, "everybody stands off", $"Stand-off: {reason ?? "leave now was called"}.", true);
        if (turn.Job.StandOff is null)
        {
            turn.Add(new StandOffBegun(
                reason ?? "leave now was called", turn.Job.Scene?.List.StandOffCentimetres ?? ArrivalList.LeastStandOffCentimetres));
        }

        var leave = LosingWords.Of(Phrase.LeaveNow);
        turn.Add(new AlertRaised(AlarmKind.Stop, reason is null ? leave : $"{char.ToUpperInvariant(reason[0])}{reason[1..]}. {leave}"));
    }

    private static Refusal? Settle(Turn turn, Need need, Answer answer, SceneAnswer settled)
    {
        var item = ItemOf(turn.Job, need);
        turn.Add(new SceneAnswered(item.Id, settled, answer.By, answer.Confidence));
        switch (settled, item.Leads)
        {
            case (SceneAnswer.Yes, Leads.StandOff):
                StandOff(turn, item.Name);
                return null;
            case (SceneAnswer.Yes, Leads.Stop):
                return InabilityRules.Stop(turn, item.Then ?? $"Yes to: {item.Name}.");
            default:
                return null;
        }
    }

    private static ArrivalItem ItemOf(Job job, Need need) => job.Scene!.List.Find(need.Subject)!;
}
