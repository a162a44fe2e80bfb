using System.Collections.Concurrent;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Voice.Audio;
using Companion.Voice.Detection;
using Companion.Voice.Keeping;
using Companion.Voice.TurnTaking;

namespace Companion.Voice.Ear;

/// <summary>
/// The ear at work: one thread takes the microphone's sound and cuts utterances out of it, another recognises them, so that no sound is
/// lost meanwhile. Memory is bounded: one utterance being cut, <see cref="MaximumWaiting"/> waiting. Call <see cref="Start"/> once.
/// </summary>
public sealed class EarLoop : IEar, IDisposable
{
    /// <summary>Utterances that may wait to be recognised; a further one is not heard.</summary>
    public const int MaximumWaiting = 4;

    private static readonly TimeSpan TryAgainAfter = TimeSpan.FromMilliseconds(300);
    private static readonly TimeSpan LookEvery = TimeSpan.FromMilliseconds(250);
    private static readonly TimeSpan StopPatience = TimeSpan.FromSeconds(2);

    private readonly IMicrophone microphone;
    private readonly UtteranceSegmenter segmenter;
    private readonly Recogniser recogniser;
    private readonly TurnGate turn;
    private readonly IClock clock;
    private readonly IInbox inbox;
    private readonly SampleClock sampleClock = new();
    private readonly ListeningLog listening = new();
    private readonly MicrophoneWatch watch;
    private readonly BlockingCollection<(Utterance Utterance, Hearing Blank)> waiting = new(MaximumWaiting);
    private readonly CancellationTokenSource end = new();
    private readonly Thread capture;
    private readonly Thread recognise;
    private readonly ManualResetEventSlim mayCapture;
    private readonly bool recorded;
    private readonly LoudspeakerEcho? echo;
    private readonly ISoundTap? tap;
    private Timer? look;

    /// <summary>An ear that does not listen yet.</summary>
    /// <param name="microphone">Where sound comes from. The ear disposes of it.</param>
    /// <param name="detector">Tells speech from the rest.</param>
    /// <param name="recogniser">Knows the phrases.</param>
    /// <param name="turn">Shared with the prompt queue.</param>
    /// <param name="clock">Tells when speech began.</param>
    /// <param name="inbox">Where hearings and the loss of the microphone go.</param>
    /// <param name="recorded">True for a file or scripted speech: opened with the first <see cref="Listen"/>, and it waits where live sound cannot.</param>
    /// <param name="echo">Told of all sound, also while the ear is shut; null when nobody asks whether the loudspeaker is heard.</param>
    /// <param name="tap">Given all sound, to keep it; null when none is kept.</param>
    public EarLoop(
        IMicrophone microphone, ISpeechProbability detector, Recogniser recogniser, TurnGate turn, IClock clock, IInbox inbox,
        bool recorded = false, LoudspeakerEcho? echo = null, ISoundTap? tap = null)
    {
        this.tap = tap;
        this.echo = echo;
        this.recorded = recorded;
        mayCapture = new ManualResetEventSlim(!recorded);
        this.microphone = microphone;
        this.recogniser = recogniser;
        this.turn = turn;
        this.clock = clock;
        this.inbox = inbox;
        segmenter = new UtteranceSegmenter(detector);
        watch = new MicrophoneWatch(inbox, clock, live: !recorded);
        capture = new Thread(Capture) { Name = "ear, capture", IsBackground = true, Priority = ThreadPriority.AboveNormal };
        recognise = new Thread(Recognise) { Name = "ear, recognise", IsBackground = true };
    }

    /// <summary>Begins to listen.</summary>
    public void Start()
    {
        capture.Start();
        recognise.Start();
        look = new Timer(_ => watch.Look(), null, LookEvery, LookEvery);
    }

    /// <summary>
    /// From now on these phrases. One that cannot be compiled (a word without pronunciation in a sheet) is left out and reported; the rest,
    /// the button and the screen go on.
    /// </summary>
    public void Listen(ListeningFor phrases)
    {
        ArgumentNullException.ThrowIfNull(phrases);
        var since = clock.Now();
        List<CompiledPhrase> compiled = [];
        foreach (var phrase in phrases.Phrases.Take(PhraseCompiler.MaximumPhrases))
        {
            try
            {
                compiled.AddRange(recogniser.Compiler.Compile([phrase]));
            }
            catch (PatternException fault)
            {
                inbox.Post(new DeviceNotice("ear", true, $"{fault.Message} This phrase is not heard; use the button or the screen for it."));
            }
        }

        listening.Change(since, phrases.Question, compiled);
        mayCapture.Set();
    }

    /// <summary>Waits until the microphone's source has ended and all its utterances are recognised; for files.</summary>
    public bool WaitForEnd(TimeSpan patience) => capture.Join(patience) && recognise.Join(patience);

    /// <summary>Stops listening.</summary>
    public void Dispose()
    {
        end.Cancel();
        look?.Dispose();
        var stopped = !capture.IsAlive || capture.Join(StopPatience);
        stopped &= !recognise.IsAlive || recognise.Join(StopPatience);

        // A read that hangs in the sound system cannot be ended from here; the process's end will do it.
        if (stopped)
        {
            microphone.Dispose();
            waiting.Dispose();
            mayCapture.Dispose();
            end.Dispose();
        }
    }

    private void Capture()
    {
        WaitHandle.WaitAny([mayCapture.WaitHandle, end.Token.WaitHandle]);
        while (!end.IsCancellationRequested)
        {
            try
            {
                microphone.Open();
                Begin();
                if (ReadToEnd())
                {
                    watch.Ended();
                    break;
                }
            }
            catch (OperationCanceledException)
            {
                // Stopped while a recording waited for its recognition.
            }
            catch (AudioDeviceException lost)
            {
                watch.Lost(lost.Message);
                Break();
                end.Token.WaitHandle.WaitOne(TryAgainAfter);
            }
        }

        waiting.CompleteAdding();
    }

    // Live, somebody may be speaking already when the microphone opens.
    private void Begin()
    {
        watch.Opened();
        if (!recorded)
        {
            Break();
        }
    }

    // Sound is missing here: what is cut by it confirms nothing (I8).
    private void Break()
    {
        Close(segmenter.Break());
        sampleClock.Restart();
        echo?.Forget();
        tap?.Break();
        turn.Speech(false);
    }

    // True when the source has ended for good.
    private bool ReadToEnd()
    {
        var frame = new float[AudioFormat.FrameSamples];
        while (!end.IsCancellationRequested)
        {
            var asked = clock.Now();
            if (!microphone.Read(frame, end.Token))
            {
                Close(segmenter.Finish());
                return true;
            }

            Take(frame, asked);
        }

        return true;
    }

    private void Take(float[] frame, Moment asked)
    {
        var now = clock.Now();
        if (watch.Frame(frame, asked, now))
        {
            Break();
        }

        tap?.Take(frame, now);
        echo?.Hear(frame, segmenter.InSpeech);
        sampleClock.Arrived(segmenter.Position + frame.Length, now);
        if (turn.IsShut)
        {
            segmenter.Skip(frame.Length);
            return;
        }

        var utterance = segmenter.Take(frame);
        turn.Speech(segmenter.InSpeech);
        Close(utterance);
    }

    private void Close(Utterance? utterance)
    {
        if (utterance is null)
        {
            return;
        }

        var onset = sampleClock.At(utterance.Onset);
        var blank = new Hearing(
            listening.At(onset).Question, onset, sampleClock.At(utterance.End), HearingOutcome.NotForUs, null, string.Empty, 0, 0);

        // Live, when recognition cannot keep up, saying nothing is better than answering late; the utterance is reported as not for us.
        if (recorded)
        {
            waiting.Add((utterance, blank), end.Token);
        }
        else if (!waiting.TryAdd((utterance, blank)))
        {
            inbox.Post(blank);
        }
    }

    private void Recognise()
    {
        try
        {
            foreach (var (utterance, blank) in waiting.GetConsumingEnumerable(end.Token))
            {
                var (heard, signalToNoise) = recogniser.Recognise(utterance, listening.At(blank.Onset).Phrases);
                inbox.Post(blank with
                {
                    Outcome = heard.Outcome,
                    PhraseId = heard.PhraseId,
                    Words = heard.Words,
                    Confidence = heard.Confidence,
                    SignalToNoise = signalToNoise,
                });
            }
        }
        catch (OperationCanceledException)
        {
            // The ear was stopped.
        }
    }
}
