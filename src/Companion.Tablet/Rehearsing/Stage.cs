using System.Diagnostics;
using Companion.Contracts;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Voice.Audio;
using Companion.Voice.Detection;
using Companion.Voice.Ear;
using Companion.Voice.Speaking;

namespace Companion.Tablet.Rehearsing;

/// <summary>The tools that every act of a rehearsal shares.</summary>
/// <param name="Store">The rehearsal store's folder.</param>
/// <param name="Detector">Speech detection.</param>
/// <param name="Recogniser">The ear's network and decoder.</param>
/// <param name="Prompts">The Companion's voice.</param>
/// <param name="Sheets">The sheets on offer.</param>
/// <param name="Chance">Where codes come from.</param>
/// <param name="Speed">How many times faster than real; 0 for as fast as it goes.</param>
public sealed record StageTools(
    string Store, ISpeechProbability Detector, Recogniser Recogniser, ISynthesiser Prompts, ISheetCatalogue Sheets, IChance Chance, double Speed);

/// <summary>
/// A tablet in simulated time: real engine, real journal, real ear, moved one microphone frame (32 ms) at a time. It can sleep and be
/// killed. One thread.
/// </summary>
public sealed class Stage : IAsyncDisposable
{
    private const int FramesPerPulse = 3;

    private static readonly Ticks Frame = Ticks.OfMilliseconds(AudioFormat.FrameSamples * 1000 / AudioFormat.SampleRate);
    private static readonly Ticks ShutAfterSound = Ticks.OfMilliseconds(200);

    private readonly StageTools _tools;
    private readonly SimulatedClock _clock;
    private readonly SoundTrack _track;
    private readonly Queue<float> _microphone = new();
    private readonly Random _roomNoise = new(7);
    private readonly InboxRelay _inbox = new();
    private readonly Stopwatch _real = Stopwatch.StartNew();
    private TimeSpan _due;
    private readonly ScriptedEar _ear;
    private ScriptedSpeaker _speaker = null!;
    private JournalStore? _journal;
    private Ticks _soundedAt;
    private int _frame;

    /// <summary>A stage that is not open yet.</summary>
    public Stage(StageTools tools, DateTimeOffset start, SoundTrack track)
    {
        _tools = tools;
        _track = track;
        _clock = new SimulatedClock(start);
        _ear = new ScriptedEar(tools.Detector, tools.Recogniser, _clock, _inbox);
    }

    /// <summary>Told of every entry once it is durable.</summary>
    public Action<JournalEntry> OnEntry { get; set; } = _ => { };

    /// <summary>A WAV file that stands in for the technician's voice; null when the script speaks.</summary>
    public string? Recorded { get; init; }

    /// <summary>The engine.</summary>
    public JobEngine Engine { get; private set; } = null!;

    /// <summary>The job.</summary>
    public Job? Job => Engine.Snapshot.Job;

    /// <summary>The moment.</summary>
    public Moment Now => _clock.Now();

    /// <summary>Utterances cut out so far.</summary>
    public int Utterances => _ear.Utterances;

    /// <summary>True when the Companion is silent and the person has ended.</summary>
    public bool IsQuiet => !_speaker.IsBusy && _microphone.Count == 0 && !_ear.InSpeech;

    /// <summary>True when the person has ended.</summary>
    public bool IsQuietOfPerson => _microphone.Count == 0 && !_ear.InSpeech;

    /// <summary>Sequence of the last entry that was shown.</summary>
    public long Shown { get; private set; }

    /// <summary>Opens the store and starts the engine, as the app does.</summary>
    public async Task OpenAsync()
    {
        _journal = await JournalStore.OpenAsync(_tools.Store, new StoreOptions(_clock) { Kind = StoreKind.Rehearsal }).ConfigureAwait(false);
        _speaker = new ScriptedSpeaker(_tools.Prompts, _clock, _inbox, _track);
        Engine = new JobEngine(new EngineParts(_journal, _clock, _ear, _speaker, _tools.Sheets, _tools.Chance));
        _inbox.Attach(Engine);
        Engine.Start();
        await Engine.DrainAsync().ConfigureAwait(false);
    }

    /// <summary>The process is killed; it starts again after a while.</summary>
    public async Task RestartAsync(Ticks down)
    {
        await _journal!.DisposeAsync().ConfigureAwait(false);
        _microphone.Clear();
        _ear.Restart();
        _clock.Pass(down);
        await OpenAsync().ConfigureAwait(false);
        Show();
    }

    /// <summary>The tablet sleeps.</summary>
    public async Task SleepAsync(Ticks span)
    {
        _clock.Pass(span, asleep: true);
        Engine.Pulse();
        await StepAsync().ConfigureAwait(false);
    }

    /// <summary>Puts sound before the microphone.</summary>
    public void Speak(ReadOnlySpan<short> samples)
    {
        foreach (var sample in samples)
        {
            _microphone.Enqueue(sample / 32768f);
        }
    }

    /// <summary>Lets time pass.</summary>
    public async Task PassAsync(Ticks span)
    {
        var until = Now.Boot + span;
        while (Now.Boot < until)
        {
            await StepAsync().ConfigureAwait(false);
        }
    }

    /// <summary>Lets time pass until something holds; false when it does not within the patience.</summary>
    public async Task<bool> PassUntilAsync(Func<bool> holds, Ticks patience)
    {
        var until = Now.Boot + patience;
        while (!holds())
        {
            if (Now.Boot >= until)
            {
                return false;
            }

            await StepAsync().ConfigureAwait(false);
        }

        return true;
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_journal is not null)
        {
            await _journal.DisposeAsync().ConfigureAwait(false);
        }
    }

    private async Task StepAsync()
    {
        _clock.Pass(Frame);
        var shut = _speaker.IsSounding || Now.Boot - _soundedAt < ShutAfterSound;
        var frame = NextFrame();
        _track.Person(frame);
        _ear.Take(frame, shut);
        _speaker.Advance(AudioFormat.FrameSamples, _ear.InSpeech);
        _soundedAt = _speaker.IsSounding ? Now.Boot : _soundedAt;
        _track.Next();
        if (++_frame % FramesPerPulse == 0)
        {
            Engine.Pulse();
        }

        await Engine.DrainAsync().ConfigureAwait(false);
        Show();
        if (_tools.Speed > 0)
        {
            _due += TimeSpan.FromMilliseconds(Frame.Nanoseconds / 1e6 / _tools.Speed);
            var early = _due - _real.Elapsed;
            await Task.Delay(early > TimeSpan.Zero ? early : TimeSpan.Zero).ConfigureAwait(false);
        }
    }

    /// <summary>What the microphone hears: speech, or a quiet room.</summary>
    private float[] NextFrame()
    {
        var frame = new float[AudioFormat.FrameSamples];
        for (var n = 0; n < frame.Length; n++)
        {
            var noise = ((float)_roomNoise.NextDouble() - 0.5f) * 0.002f;
            frame[n] = _microphone.TryDequeue(out var sample) ? Math.Clamp(sample + noise, -1f, 1f) : noise;
        }

        return frame;
    }

    private void Show()
    {
        if (Job is not { } job || job.Sequence <= Shown)
        {
            return;
        }

        foreach (var entry in _journal!.Read(job.Id, Shown + 1))
        {
            Shown = entry.Sequence;
            OnEntry(entry);
        }
    }
}
