using Companion.Contracts;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Engine;
using Companion.Engine.Codec;
using Companion.TestKit.Judging;

namespace Companion.Domain.Tests.Properties;

/// <summary>State is a fold over the journal, and the rules are a function.</summary>
public sealed class FoldProperties
{
    // I13: at every prefix, through the journal's own text.
    [Fact]
    public void Folding_what_was_written_gives_the_same_job_at_every_prefix() => Walks.Hold(150, world =>
    {
        Job? folded = null;
        foreach (var turn in world.Turns.Where(turn => turn.Decision.Events.Length > 0))
        {
            foreach (var entry in world.Log.Skip(turn.LogBefore).Take(turn.Decision.Events.Length))
            {
                folded = Rebuild.Next(folded, Written(entry));
            }

            Oracle.Claim(JobText.Of(folded) == JobText.Of(turn.After), $"I13: after entry {folded?.Sequence}\n{JobText.Of(folded)}\n{JobText.Of(turn.After)}");
        }
    });

    // I13: pure and total; the same input gives the same decision, and nothing of the state is changed by asking.
    [Fact]
    public void The_same_question_put_twice_to_the_rules_is_decided_the_same() => Walks.Hold(100, world =>
    {
        foreach (var turn in world.Turns.Where((_, index) => index % 3 == 0))
        {
            var before = JobText.Of(turn.Before);
            var once = Decide.On(turn.Before, turn.Command, turn.Moment, 5);
            var twice = Decide.On(turn.Before, turn.Command, turn.Moment, 5);
            Oracle.Claim(once.Events.Length == twice.Events.Length && string.Join('|', once.Events) == string.Join('|', twice.Events), "I13: decided differently");
            Oracle.Claim(before == JobText.Of(turn.Before), "I13: the state was changed by asking");
        }
    });

    /// <summary>The entry as the journal would hand it back.</summary>
    private static JournalEntry Written(Witnessed entry)
    {
        var draft = EventCodec.Draft("job-1", entry.Event, entry.Moment);
        var data = (System.Text.Json.Nodes.JsonObject)System.Text.Json.Nodes.JsonNode.Parse(draft.Data)!;
        foreach (var name in draft.Personal.Keys)
        {
            data[name] = "hash";
        }

        return new JournalEntry(
            "job-1", entry.Sequence, draft.Type, draft.Time, draft.BootId, draft.Uptime, false, data.ToJsonString(), string.Empty, string.Empty, default,
            draft.Personal.ToDictionary(pair => pair.Key, pair => new SealedText("00", pair.Value)));
    }
}
