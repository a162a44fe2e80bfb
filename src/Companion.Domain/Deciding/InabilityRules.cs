using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;

namespace Companion.Domain.Deciding;

/// <summary>Where "cannot do" leads: to the sheet's alternative way or to "treat as live", never round in a loop (I22).</summary>
internal static class InabilityRules
{
    /// <summary>The reason was said.</summary>
    public static Refusal? Reason(Turn turn, Phrase phrase)
    {
        var step = turn.Job.Inability!.Step;
        var reason = ReasonOf(phrase);
        turn.Add(new StepUnable(step, reason));
        var openStep = turn.Job.Way!.Steps.FirstOrDefault(candidate => candidate.Id == step)?.Kind == StepKind.Open;
        if (reason == InabilityReason.NotThere && openStep)
        {
            return TestRules.StopForWrongSheet(turn, "The sheet names a point that is not on this vehicle.");
        }

        return Ways.After(turn.Job, step) is null ? Stop(turn, "A step cannot be done and the sheet has no other way.") : null;
    }

    /// <summary>The alternative way is taken: all waits and proofs are void; what is open stays open.</summary>
    public static Refusal? Take(Turn turn)
    {
        var inability = turn.Job.Inability!;
        var way = Ways.After(turn.Job, inability.Step)!;
        VoidRules.VoidEverythingOn(turn, _ => true, "another way is taken");
        turn.Add(new WayTaken(way.Id, inability.Step, inability.Reason ?? InabilityReason.CannotReach));
        return null;
    }

    /// <summary>Nothing is left but to hand over as live.</summary>
    public static Refusal? Stop(Turn turn, string reason)
    {
        VoidRules.StopWork(turn, "the job is stopped", reason, true);
        turn.Add(new AlertRaised(AlarmKind.Stop, $"{reason} Treat as live, keep away, hand over."));
        return null;
    }

    private static InabilityReason ReasonOf(Phrase phrase) => phrase switch
    {
        Phrase.NotThere => InabilityReason.NotThere,
        Phrase.CannotReach => InabilityReason.CannotReach,
        Phrase.Damaged => InabilityReason.Damaged,
        Phrase.Stuck => InabilityReason.Stuck,
        _ => InabilityReason.NoTool,
    };
}
