using Companion.TestKit.Judging;

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
    public void The_state_claims_no_more_than_the_log_allows() => Walks.Hold(400, world => Along(world, StateChecks.Hold));

    // I1: the seconds of a refusal are exactly those left.
    [Fact]
    public void A_refusal_for_a_running_wait_says_exactly_the_seconds_left() => Walks.Hold(500, world => Along(world, StateChecks.Refusal));

    // I5: a wait is voided only by something that touches its circuit, so that separate circuits leave each other alone.
    [Fact]
    public void A_wait_is_voided_only_by_what_touches_its_circuit() => Walks.Hold(400, world =>
    {
        foreach (var turn in world.Turns)
        {
            VoidChecks.Hold(turn, world.Sheet);
        }
    });

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
}
