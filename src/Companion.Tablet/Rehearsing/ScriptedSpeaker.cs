using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Voice.Audio;
using Companion.Voice.Speaking;

namespace Companion.Tablet.Rehearsing;

/// <summary>
/// Speaks in simulated time: the same order of prompts and the same speech as on the tablet, played sample by sample as the
/// rehearsal's clock moves. One thread.
/// </summary>
public sealed class ScriptedSpeaker(ISynthesiser synthesiser, IClock clock, IInbox inbox, SoundTrack track) : ISpeaker
{
    private static readonly short[] Tone = AlarmTone.BeforeSpeech;

    private readonly PromptLine _line = new();
    private Prompt? _sounding;
    private short[] _samples = [];
    private int _played;

    /// <summary>True while something sounds or waits to sound.</summary>
    public bool IsBusy => _sounding is not null || _line.Count > 0;

    /// <summary>True while something sounds: the ear is shut.</summary>
    public bool IsSounding => _sounding is not null;

    /// <inheritdoc/>
    public void Say(Prompt prompt)
    {
        if (_line.Add(prompt, clock.Now()) is { } dropped)
        {
            inbox.Post(dropped);
        }
    }

    /// <inheritdoc/>
    public void DropStale(long beforePrompt)
    {
        foreach (var receipt in _line.DropBefore(beforePrompt))
        {
            inbox.Post(receipt);
        }

        if (_sounding is { Urgency: <= Urgency.Step, Question: not 0 } stale && stale.Id < beforePrompt)
        {
            End(false, "stale");
        }
    }

    /// <summary>Plays one frame's worth, or begins the next prompt. Prompts that can wait do so while a person speaks.</summary>
    public void Advance(int samples, bool somebodySpeaks)
    {
        if (_sounding is { } lesser && _line.Next > lesser.Urgency && _line.Next == Urgency.Alarm)
        {
            End(false, "cut off");
        }

        if (_sounding is null && !(somebodySpeaks && _line.Next is <= Urgency.Step))
        {
            Begin();
        }

        if (_sounding is null)
        {
            return;
        }

        var count = Math.Min(samples, _samples.Length - _played);
        track.Prompt(_samples.AsSpan(_played, count));
        _played += count;
        if (_played == _samples.Length)
        {
            End(true, null);
        }
    }

    private void Begin()
    {
        List<PromptReceipt> dropped = [];
        _sounding = _line.Take(clock.Now(), dropped);
        dropped.ForEach(inbox.Post);
        if (_sounding is null)
        {
            return;
        }

        try
        {
            var speech = synthesiser.Speak(_sounding.Text);
            _samples = _sounding.Urgency == Urgency.Alarm ? [.. Tone, .. speech] : speech;
            _played = 0;
        }
        catch (SynthesiserException fault)
        {
            End(false, fault.Message);
        }
    }

    private void End(bool played, string? reason)
    {
        var ended = _sounding!;
        _sounding = null;
        inbox.Post(new PromptReceipt(ended.Id, played, reason));
    }
}
