using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Voice.Audio;
using Companion.Voice.Detection;
using Companion.Voice.Ear;

namespace Companion.Tablet.Rehearsing;

/// <summary>
/// The real ear (speech detection, features, network, decoder) fed frame by frame in simulated time, on the rehearsal's own thread.
/// </summary>
public sealed class ScriptedEar(ISpeechProbability detector, Recogniser recogniser, IClock clock, IInbox inbox) : IEar
{
    private static readonly Ticks Frame = Ticks.OfMilliseconds(AudioFormat.FrameSamples * 1000 / AudioFormat.SampleRate);

    private readonly ListeningLog _listening = new();
    private UtteranceSegmenter _segmenter = new(detector);

    /// <summary>Utterances that the detector cut out.</summary>
    public int Utterances { get; private set; }

    /// <summary>True while somebody speaks.</summary>
    public bool InSpeech => _segmenter.InSpeech;

    /// <inheritdoc/>
    public void Listen(ListeningFor phrases) =>
        _listening.Change(clock.Now(), phrases.Question, recogniser.Compiler.Compile(phrases.Phrases));

    /// <summary>Takes the frame that has just ended; shut, it is skipped.</summary>
    public void Take(ReadOnlySpan<float> frame, bool shut)
    {
        if (shut)
        {
            _segmenter.Skip(frame.Length);
        }
        else if (_segmenter.Take(frame) is { } utterance)
        {
            Hear(utterance);
        }
    }

    /// <summary>The process ended: what was half heard is lost.</summary>
    public void Restart()
    {
        _segmenter = new UtteranceSegmenter(detector);
    }

    private void Hear(Utterance utterance)
    {
        Utterances++;
        var now = clock.Now();
        var onset = At(now, utterance.Onset);
        var (question, phrases) = _listening.At(onset);
        var (heard, signalToNoise) = recogniser.Recognise(utterance, phrases);
        inbox.Post(new Hearing(
            question, onset, At(now, utterance.End), heard.Outcome, heard.PhraseId, heard.Words, heard.Confidence, signalToNoise));
    }

    /// <summary>The moment at which a sample arrived, counted back from now.</summary>
    private Moment At(Moment now, long sample)
    {
        var back = new Ticks((_segmenter.Position - sample) * (Frame.Nanoseconds / AudioFormat.FrameSamples));
        return now with { Boot = now.Boot - back, Awake = now.Awake - back, Wall = now.Wall.AddTicks(-back.Nanoseconds / 100) };
    }
}
