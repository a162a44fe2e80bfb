using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;

namespace Companion.TestKit.Judging;

/// <summary>What the state may claim after a turn, judged by the log alone.</summary>
public static class StateChecks
{
    /// <summary>I1, I2, I5, I15, I16: the state never claims more than the log allows, and what time brings comes in time.</summary>
    public static void Hold(Turned turn, Ledger ledger)
    {
        if (turn.After is not { Ended: false } job)
        {
            return;
        }

        Oracle.Claim(job.Proofs.Keys.All(ledger.Proved.Contains), "I1: a proof that the log does not give");
        Oracle.Claim(job.Clearance is null || ledger.Cleared, "I15: clear to work that the log does not give");
        Oracle.Claim(job.Clearance is null || !ledger.Doubt, "I15: clear to work in doubt");
        Oracle.Claim(turn.Before?.Clearance is null || job.Clearance != turn.Before.Clearance || !Stood(turn), "I15: clear to work outlasts a loop that stood still");
        Oracle.Claim(!ledger.Due(turn.Moment), "I15: the next test is due and clear to work or its proofs stand");
        Oracle.Claim(!ledger.Overdue(turn.Moment).Any() || turn.Decision.Events.Any(Restarts), "I1: a wait is over and not ended");
        Oracle.Claim(!ledger.AnchorDue(turn.Moment), "I2: a wait runs and no anchor was written for 10 s");
    }

    /// <summary>I1: the seconds of a refusal are exactly those left.</summary>
    public static void Refusal(Turned turn, Ledger ledger)
    {
        if (turn.Command is Answer { Phrase: Phrase.ProvedDead } && turn.Decision is Refused refused
            && refused.Events.LastOrDefault(happened => happened is DeadRefused or StepRefused) is DeadRefused said)
        {
            var left = turn.After is { Alarm: null, Halt: null } ? ledger.SecondsLeft(turn.Moment) ?? 0 : 0;
            Oracle.Claim(refused.RemainingSeconds == left, $"I1: {left} seconds are left and {refused.RemainingSeconds} are said");
            Oracle.Claim(said.RemainingSeconds == left && said.Reason == refused.Reason, "I9: the journal says another refusal");
            Oracle.Claim(left == 0 || refused.Reason.Contains($"{left} second", StringComparison.Ordinal), "I1: the reason does not say the seconds");
        }
    }

    /// <summary>No entry for longer than an anchor and a half, or another boot.</summary>
    private static bool Stood(Turned turn) => turn.Before is { } before
        && (before.Clock.BootId != turn.Moment.BootId || (turn.Moment.Boot - before.Clock.LastBoot).Seconds > 15);

    private static bool Restarts(JobEvent happened) =>
        happened is ClockAnchored { Why: AnchorReason.Start or AnchorReason.Resume } or StepConfirmed;
}
