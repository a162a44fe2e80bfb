using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Events;
using Companion.Domain.Evolving;
using Companion.Domain.Isolation;
using Companion.Domain.Reacting;
using Companion.Domain.Speaking;
using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Engine;

/// <summary>The engine's hand on the speaker: numbers the prompts, gives warnings before the disk, and remembers what was said.</summary>
internal sealed class Voice(ISpeaker speaker, IClock clock)
{
    /// <summary>A prompt without a receipt for this long counts as lost: it must not keep a warning from being given again.</summary>
    public static readonly Ticks LongestPrompt = Ticks.OfSeconds(20);

    private readonly Dictionary<long, Spoken> _speaking = [];
    private readonly NotPlayed _notPlayed = new();
    private long _last;
    private Moment? _alarmSaid;
    private bool _alarmStood;

    /// <summary>Speaks the warnings among events that are not durable yet (I16); <see cref="Speak"/> leaves them out later.</summary>
    public void WarnFirst(Job? job, string chain, ImmutableArray<JobEvent> events, Moment moment)
    {
        var provisional = job;
        foreach (var happened in events)
        {
            provisional = Evolve.Apply(provisional, happened, chain, (provisional?.Sequence ?? 0) + 1, moment);
            if (provisional is null)
            {
                continue;
            }

            foreach (var alarm in React.To(provisional, happened, moment).OfType<Say>().Where(say => say.Weight == Weight.Alarm))
            {
                Warn(alarm.Text);
            }
        }
    }

    /// <summary>Speaks a warning now, unless the same one is being given already.</summary>
    public bool Warn(string text)
    {
        if (UnderWay().Any(prompt => Bare(prompt.Text) == Bare(text)))
        {
            return false;
        }

        _notPlayed.Warned(Bare(text), clock.Now());
        Enqueue(Urgency.Alarm, text, 0);
        return true;
    }

    /// <summary>
    /// A new question makes what still waits from before stale. Called before anything of the turn is spoken, so that the turn's own
    /// statements and refusals are heard.
    /// </summary>
    public void DropStale() => speaker.DropStale(_last + 1);

    /// <summary>Speaks of a durable event.</summary>
    public void Speak(Job job, JobEvent happened, Moment moment)
    {
        if (happened is CheckInMade)
        {
            _notPlayed.Withdraw(CheckInWording.Now);
            _notPlayed.Withdraw(CheckInWording.Missed);
        }

        foreach (var say in React.To(job, happened, moment).OfType<Say>())
        {
            if (say.Weight == Weight.Alarm)
            {
                _alarmSaid = moment;
                continue;
            }

            Enqueue(new Prompt(0, UrgencyOf(say.Weight), say.Text, say.Question)
            {
                IsSoundCheck = job.Question is { CodeIsOnlySpoken: true } asked && asked.Sequence == say.Question,
                Written = say.Written,
            });
        }
    }

    /// <summary>Speaks a refusal that belongs to no job.</summary>
    public void Refuse(string text) => Enqueue(Urgency.Refusal, text, 0);

    /// <summary>Speaks the time calls between two counted times.</summary>
    public void SpeakTimeCalls(Job job, Ticks earlier, Ticks later)
    {
        foreach (var say in TimeCalls.Between(job, earlier, later).OfType<Say>())
        {
            Enqueue(Urgency.TimeCall, say.Text, 0);
        }
    }

    /// <summary>A check-in that is due, or was missed, is asked for again and again; once somebody checked in, no longer.</summary>
    public void AskForCheckIn(Job job, Ticks earlier, Ticks later)
    {
        if (CheckInCalls.Between(job, earlier, later) is { } say)
        {
            Warn(say.Text);
        }
    }

    /// <summary>An alarm counts only when it was answered: until then it is given again and again (I19).</summary>
    public void RepeatAlarm(Job job, Moment moment)
    {
        if (job.Alarm is null)
        {
            if (_alarmStood)
            {
                _notPlayed.Answered();
            }

            (_alarmSaid, _alarmStood) = (null, false);
            return;
        }

        _alarmStood = true;

        var underWay = UnderWay().Any(prompt => prompt.Urgency == Urgency.Alarm);
        if (!underWay && (_alarmSaid is not { } said || said.BootId != moment.BootId || moment.Boot - said.Boot >= TimeCalls.AlarmAgain))
        {
            Enqueue(Urgency.Alarm, $"{job.Alarm.Text} Say affirm.", job.Question?.Sequence ?? 0);
            _alarmSaid = moment;
        }
    }

    /// <summary>
    /// A warning that was not played to its end was not given (I19). Where no alarm stands in the job that would bring it again, as without
    /// a record, it is repeated here.
    /// </summary>
    public void RepeatUnplayed(Moment moment)
    {
        foreach (var text in _notPlayed.DueWarnings(moment))
        {
            Warn(text);
        }
    }

    /// <summary>A question that could not be spoken is asked again, ever more seldom, and at once when a device is back.</summary>
    public void AskAgain(Job job, Moment moment)
    {
        if (job.Question is { } question && _notPlayed.AsksAgain(question.Sequence, moment))
        {
            Speak(job, new SpeechHeard(new Personal(null), Phrase.SayAgain, true, string.Empty, 0), moment);
        }
    }

    /// <summary>What could not be spoken may be heard now.</summary>
    public void TryAgainNow() => _notPlayed.TryNow();

    /// <summary>What is to be journalled of a prompt that ended.</summary>
    public PromptEnded? Ended(PromptReceipt receipt, Moment ended)
    {
        if (!_speaking.Remove(receipt.Id, out var spoken))
        {
            return null;
        }

        if (spoken.Prompt.Urgency == Urgency.Alarm && receipt.PlayedToEnd)
        {
            // Counted from its end: while it sounds nobody can answer by voice.
            _alarmSaid = ended;
        }

        _notPlayed.Ended(spoken.Prompt, Bare(spoken.Prompt.Text), receipt, clock.Now());
        return new PromptEnded(spoken.Prompt.Written ?? spoken.Prompt.Text, receipt.PlayedToEnd, receipt.Reason ?? string.Empty);
    }

    /// <summary>A warning is the same warning with or without the request to answer.</summary>
    private static string Bare(string text) => text.Replace(" Say affirm.", string.Empty, StringComparison.Ordinal);

    private IEnumerable<Prompt> UnderWay()
    {
        var now = clock.Now();
        return _speaking.Values
            .Where(spoken => spoken.Since.BootId == now.BootId && now.Boot - spoken.Since.Boot < LongestPrompt)
            .Select(spoken => spoken.Prompt);
    }

    private static Urgency UrgencyOf(Weight weight) => weight switch
    {
        Weight.TimeCall => Urgency.TimeCall,
        Weight.Step => Urgency.Step,
        Weight.Refusal => Urgency.Refusal,
        _ => Urgency.Alarm,
    };

    private void Enqueue(Urgency urgency, string text, long question) => Enqueue(new Prompt(0, urgency, text, question));

    private void Enqueue(Prompt unnumbered)
    {
        var prompt = unnumbered with { Id = ++_last };
        _speaking[prompt.Id] = new Spoken(prompt, clock.Now());
        speaker.Say(prompt);
    }

    private sealed record Spoken(Prompt Prompt, Moment Since);
}
