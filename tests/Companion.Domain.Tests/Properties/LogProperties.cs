namespace Companion.Domain.Tests.Properties;

/// <summary>Random jobs against the oracle that reads only the log.</summary>
public sealed class LogProperties
{
    // I1, I2, I3, I5, I6, I15
    [Fact]
    public void Every_entry_stands_where_the_rules_allow_it() => Walks.Hold(700, Judge);

    // I8, I9, I16, I17
    [Fact]
    public void Every_turn_confirms_refuses_and_admits_as_it_must() => Walks.Hold(500, world =>
    {
        foreach (var turn in world.Turns)
        {
            TurnChecks.Hold(turn, world.Log);
        }
    });

    // I1, I2, I5, I15, I16: the state never claims more than the log allows, and what time brings comes in time.
    [Fact]
    public void The_state_claims_no_more_than_the_log_allows() => Walks.Hold(400, world => Along(world, (turn, ledger) =>
    {
        if (turn.After is not { Ended: false } job)
        {
            return;
        }

        Oracle.Claim(job.Proofs.Keys.All(ledger.Proved.Contains), "I1: a proof that the log does not give");
        Oracle.Claim(job.Clearance is null || ledger.Cleared, "I15: clear to work that the log does not give");
        Oracle.Claim(job.Clearance is null || !ledger.Doubt, "I15: clear to work in doubt");
        Oracle.Claim(turn.Before?.Clearance is null || job.Clearance != turn.Before.Clearance || !Stood(turn), "I15: clear to work outlasts a loop that stood still");
        Oracle.Claim(!ledger.Due(turn.Moment), "I15: the next test is due and clear to work stands");
        Oracle.Claim(!ledger.Overdue(turn.Moment).Any() || turn.Decision.Events.Any(Restarts), "I1: a wait is over and not ended");
    }));

    // I1: the seconds of a refusal are exactly those left.
    [Fact]
    public void A_refusal_for_a_running_wait_says_exactly_the_seconds_left() => Walks.Hold(500, world => Along(world, (turn, ledger) =>
    {
        if (turn.Command is Deciding.Answer { Phrase: Asking.Phrase.ProvedDead } && turn.Decision is Deciding.Refused refused
            && refused.Events.LastOrDefault(happened => happened is Events.DeadRefused or Events.StepRefused) is Events.DeadRefused said)
        {
            var left = turn.After is { Alarm: null, Halt: null } ? ledger.SecondsLeft(turn.Moment) ?? 0 : 0;
            Oracle.Claim(refused.RemainingSeconds == left, $"{left} seconds are left and {refused.RemainingSeconds} are said");
            Oracle.Claim(said.RemainingSeconds == left && said.Reason == refused.Reason, "the journal says another refusal");
            Oracle.Claim(left == 0 || refused.Reason.Contains($"{left} seconds", StringComparison.Ordinal), "the reason does not say the seconds");
        }
    }));

    // I5: a wait is voided only by something that touches its circuit, so that separate circuits leave each other alone.
    [Fact]
    public void A_wait_is_voided_only_by_what_touches_its_circuit() => Walks.Hold(400, VoidChecks.Hold);

    /// <summary>The whole log before the oracle.</summary>
    internal static void Judge(World world)
    {
        var ledger = new Ledger();
        foreach (var entry in world.Log)
        {
            ledger.Take(entry);
        }
    }

    private static void Along(World world, Action<Turned, Ledger> check)
    {
        var ledger = new Ledger();
        foreach (var turn in world.Turns)
        {
            foreach (var entry in world.Log.Skip(turn.LogBefore).Take(turn.Decision.Events.Length))
            {
                ledger.Take(entry);
            }

            check(turn, ledger);
        }
    }

    /// <summary>No entry for longer than an anchor and a half, or another boot.</summary>
    private static bool Stood(Turned turn) => turn.Before is { } before
        && (before.Clock.BootId != turn.Moment.BootId || (turn.Moment.Boot - before.Clock.LastBoot).Seconds > 15);

    private static bool Restarts(Events.JobEvent happened) =>
        happened is Events.ClockAnchored { Why: Events.AnchorReason.Start or Events.AnchorReason.Resume } or Events.StepConfirmed;
}
