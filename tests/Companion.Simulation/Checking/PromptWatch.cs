using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Checking;

/// <summary>Listens to what is said: not before it is durable (I7), warnings before the disk (I16), alarms again until answered (I19), statements whole (I15).</summary>
internal sealed class PromptWatch
{
    private static readonly Ticks LongestPrompt = Ticks.OfSeconds(20);

    /// <summary>Eight seconds after its end, so that it can be answered by voice.</summary>
    private static readonly Ticks AlarmAgain = LongestPrompt + Ticks.OfSeconds(8);

    private readonly List<(Prompt Prompt, Moment At)> _alarms = [];
    private bool _undurable;

    /// <summary>Tells the moment.</summary>
    public Func<Moment> Now { get; set; } = () => default;

    /// <summary>Prompts so far.</summary>
    public int Count { get; private set; }

    /// <summary>A decision stands and is not durable.</summary>
    public void Begin(Decision decision) => _undurable = !decision.Events.IsEmpty;

    /// <summary>It is durable.</summary>
    public void Recorded() => _undurable = false;

    /// <summary>The turn is over, one way or the other.</summary>
    public void End() => _undurable = false;

    /// <summary>Another process speaks from here.</summary>
    public void Restarted()
    {
        _alarms.Clear();
        _undurable = false;
    }

    /// <summary>Something is to be said.</summary>
    public void Said(Prompt prompt, Ledger ledger)
    {
        Count++;
        Oracle.Claim(prompt.Urgency == Urgency.Alarm || !_undurable, $"I7: said before it was durable: {prompt.Text}");
        Oracle.Claim(prompt.Text.Length > 0 && !prompt.Text.Contains("safe", StringComparison.OrdinalIgnoreCase), $"I15: said: {prompt.Text}");
        if (prompt.Text.StartsWith("Recorded: proved dead", StringComparison.Ordinal))
        {
            Oracle.Claim(ledger.Proved.Count > 0, "I7: proved dead is said and the log does not give it");
            Oracle.Claim(prompt.Text.Contains("Still live: ", StringComparison.Ordinal), "I15: proved dead without what stays live");
        }

        if (prompt.Text.StartsWith("Recorded: clear to work", StringComparison.Ordinal))
        {
            Oracle.Claim(ledger.Cleared, "I7: clear to work is said and the log does not give it");
            Oracle.Claim(prompt.Text.Contains("Still live: ", StringComparison.Ordinal), "I15: clear to work without what stays live");
        }

        if (prompt.Urgency == Urgency.Alarm)
        {
            _alarms.Add((prompt, Now()));
        }
    }

    /// <summary>I16: what takes away is said before the disk is asked.</summary>
    public void WarnedBeforeTheDisk(Decision decision, Moment moment)
    {
        foreach (var raised in decision.Events.OfType<AlertRaised>())
        {
            Oracle.Claim(Heard(raised.Alert, moment), $"I16: the disk is asked before the warning is given: {raised.Alert}");
        }
    }

    /// <summary>True when an alarm with these words was given so lately that it may still be sounding.</summary>
    public bool Heard(string words, Moment moment) =>
        _alarms.Any(alarm => alarm.Prompt.Text.Contains(words, StringComparison.Ordinal) && IsRecent(alarm.At, moment));

    /// <summary>I19: an alarm that nobody answered is given again.</summary>
    public void AlarmRepeats(Job? job, Moment moment)
    {
        if (job is { Ended: false, Alarm: not null })
        {
            Oracle.Claim(_alarms.Count > 0 && IsWithin(AlarmAgain, _alarms[^1].At, moment), $"I19: an alarm that nobody answered is not given again: {job.Alarm.Text}");
        }
    }

    private static bool IsRecent(Moment said, Moment now) => IsWithin(LongestPrompt, said, now);

    private static bool IsWithin(Ticks most, Moment said, Moment now) => said.BootId == now.BootId && now.Boot - said.Boot <= most;
}
