using Companion.Engine.Ports;

namespace Companion.TestKit;

/// <summary>A speaker without sound. Prompts wait until a test plays them, or are played at once while <see cref="AtOnce"/> is set.</summary>
public sealed class FakeSpeaker : ISpeaker
{
    private readonly Lock _lock = new();
    private readonly List<Prompt> _all = [];
    private readonly List<Prompt> _waiting = [];

    /// <summary>Where receipts go.</summary>
    public IInbox? Inbox { get; set; }

    /// <summary>True to play every prompt to its end at once.</summary>
    public bool AtOnce { get; set; } = true;

    /// <summary>Called for every prompt as it is asked for, on the caller's thread.</summary>
    public Action<Prompt>? Asked { get; set; }

    /// <summary>Every prompt ever asked for.</summary>
    public IReadOnlyList<Prompt> All => Copy(_all);

    /// <summary>The prompts that wait to be played.</summary>
    public IReadOnlyList<Prompt> Waiting => Copy(_waiting);

    /// <summary>The words of every prompt, one line each.</summary>
    public string Words => string.Join('\n', All.Select(prompt => prompt.Text));

    /// <summary>The words of every alarm.</summary>
    public IReadOnlyList<string> Alarms => [.. All.Where(prompt => prompt.Urgency == Urgency.Alarm).Select(prompt => prompt.Text)];

    /// <inheritdoc/>
    public void Say(Prompt prompt)
    {
        lock (_lock)
        {
            _all.Add(prompt);
            _waiting.Add(prompt);
        }

        Asked?.Invoke(prompt);
        if (AtOnce)
        {
            PlayAll();
        }
    }

    /// <inheritdoc/>
    public void DropStale(long beforePrompt)
    {
        List<Prompt> stale;
        lock (_lock)
        {
            stale = [.. _waiting.Where(prompt => prompt.Id < beforePrompt && prompt.Question != 0 && prompt.Urgency != Urgency.Alarm)];
        }

        foreach (var prompt in stale)
        {
            End(prompt, false, "stale");
        }
    }

    /// <summary>Plays everything that waits to its end.</summary>
    public void PlayAll()
    {
        foreach (var prompt in Waiting)
        {
            End(prompt, true, null);
        }
    }

    /// <summary>Everything that waits fails.</summary>
    public void FailAll(string reason)
    {
        foreach (var prompt in Waiting)
        {
            End(prompt, false, reason);
        }
    }

    /// <summary>Forgets what was asked for so far.</summary>
    public void Clear()
    {
        lock (_lock)
        {
            _all.Clear();
        }
    }

    private void End(Prompt prompt, bool played, string? reason)
    {
        lock (_lock)
        {
            _waiting.Remove(prompt);
        }

        Inbox?.Post(new PromptReceipt(prompt.Id, played, reason));
    }

    private Prompt[] Copy(List<Prompt> prompts)
    {
        lock (_lock)
        {
            return [.. prompts];
        }
    }
}
