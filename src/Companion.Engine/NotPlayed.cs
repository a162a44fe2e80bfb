using Companion.Domain.Reacting;
using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Engine;

/// <summary>
/// What was to be said and did not play to its end: warnings, and the open question when its prompt failed. Each is tried again after
/// <see cref="TimeCalls.AlarmAgain"/>, then ever more seldom, so that a loudspeaker that stays away does not fill the record.
/// </summary>
internal sealed class NotPlayed
{
    /// <summary>Nothing is tried again more seldom than this.</summary>
    public static readonly Ticks LongestPause = Ticks.OfSeconds(64);

    private readonly Dictionary<string, Owed> _warnings = [];
    private (long Sequence, Owed Owed)? _question;
    private bool _asking;

    /// <summary>A warning is being given.</summary>
    public void Warned(string text, Moment moment) => _warnings[text] = Again(_warnings.GetValueOrDefault(text), moment);

    /// <summary>The standing alarm was answered: what was not heard of it was read.</summary>
    public void Answered() => _warnings.Clear();

    /// <summary>What a warning asked for was done: it need not be heard any more.</summary>
    public void Withdraw(string text) => _warnings.Remove(text);

    /// <summary>A prompt ended. A stale one was dropped on purpose.</summary>
    public void Ended(Prompt prompt, string text, PromptReceipt receipt, Moment moment)
    {
        if (receipt.PlayedToEnd)
        {
            _warnings.Remove(text);
        }

        if (prompt.Question == 0 || prompt.Urgency != Urgency.Step || receipt.Reason == "stale")
        {
            return;
        }

        var before = _question is { } failed && failed.Sequence == prompt.Question ? failed.Owed : null;
        _question = receipt.PlayedToEnd ? null : (prompt.Question, Again(before, moment));
        _asking = false;
    }

    /// <summary>The warnings that are due to be given again.</summary>
    public IReadOnlyList<string> DueWarnings(Moment moment) =>
        [.. _warnings.Where(warning => warning.Value.IsDue(moment)).Select(warning => warning.Key)];

    /// <summary>True once each time that the question could not be spoken and is due to be asked again.</summary>
    public bool AsksAgain(long question, Moment moment)
    {
        if (_asking || _question is not { } failed || failed.Sequence != question || !failed.Owed.IsDue(moment))
        {
            return false;
        }

        _asking = true;
        return true;
    }

    /// <summary>A device is back: everything may be tried at once.</summary>
    public void TryNow()
    {
        foreach (var (text, owed) in _warnings.ToList())
        {
            _warnings[text] = owed with { Pause = Ticks.Zero };
        }

        _question = _question is { } failed ? (failed.Sequence, failed.Owed with { Pause = Ticks.Zero }) : null;
    }

    private static Owed Again(Owed? before, Moment moment)
    {
        var doubled = before is null ? Ticks.Zero : before.Pause + before.Pause;
        var pause = doubled < TimeCalls.AlarmAgain ? TimeCalls.AlarmAgain : doubled < LongestPause ? doubled : LongestPause;
        return new Owed(moment, pause);
    }

    private sealed record Owed(Moment Since, Ticks Pause)
    {
        public bool IsDue(Moment moment) => moment.BootId != Since.BootId || moment.Boot - Since.Boot >= Pause;
    }
}
