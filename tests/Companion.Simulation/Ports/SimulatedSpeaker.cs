using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Simulation.Ports;

/// <summary>A voice whose prompts take simulated time. The most urgent goes first; an alarm cuts off what is less; a lost loudspeaker plays nothing.</summary>
internal sealed class SimulatedSpeaker(IClock clock) : ISpeaker
{
    private static readonly Ticks PerLetter = Ticks.OfMilliseconds(55);

    private readonly List<Prompt> _waiting = [];
    private Prompt? _playing;
    private Ticks _ends;

    /// <summary>Where receipts go; null while the process is down.</summary>
    public IInbox? Inbox { get; set; }

    /// <summary>Called with every prompt as it is asked for.</summary>
    public required Action<Prompt> Asked { get; init; }

    /// <summary>True while there is no loudspeaker.</summary>
    public bool Lost { get; set; }

    /// <inheritdoc/>
    public void Say(Prompt prompt)
    {
        Asked(prompt);
        _waiting.Add(prompt);
        if (prompt.Urgency == Urgency.Alarm && _playing is { Urgency: not Urgency.Alarm } cut)
        {
            _playing = null;
            Inbox?.Post(new PromptReceipt(cut.Id, false, "cut off"));
        }

        Next();
    }

    /// <inheritdoc/>
    public void DropStale(long beforePrompt)
    {
        foreach (var stale in _waiting.Where(prompt => prompt.Id < beforePrompt && prompt.Question != 0 && prompt.Urgency != Urgency.Alarm).ToList())
        {
            _waiting.Remove(stale);
            Inbox?.Post(new PromptReceipt(stale.Id, false, "stale"));
        }
    }

    /// <summary>Ends what has been played to its end by now.</summary>
    public void Play()
    {
        while (_playing is { } played && clock.Now().Boot >= _ends)
        {
            _playing = null;
            Inbox?.Post(new PromptReceipt(played.Id, true, null));
            Next();
        }
    }

    /// <summary>The process is gone, and its voice with it.</summary>
    public void Silence()
    {
        _waiting.Clear();
        _playing = null;
        Inbox = null;
    }

    private void Next()
    {
        while (Lost && _waiting.Count > 0)
        {
            var failed = _waiting[0];
            _waiting.RemoveAt(0);
            Inbox?.Post(new PromptReceipt(failed.Id, false, "no loudspeaker"));
        }

        if (_playing is null && _waiting.Count > 0)
        {
            _playing = _waiting.OrderByDescending(prompt => prompt.Urgency).ThenBy(prompt => prompt.Id).First();
            _waiting.Remove(_playing);
            _ends = clock.Now().Boot + new Ticks(PerLetter.Nanoseconds * _playing.Text.Length);
        }
    }
}
