using Companion.Voice.Audio;

namespace Companion.Voice.Detection;

/// <summary>
/// Cuts utterances out of the microphone's sound. Speech begins with the first frame that is likely speech and ends with the last one
/// before 384 ms without any. Memory is bounded by the longest utterance. One thread.
/// </summary>
public sealed class UtteranceSegmenter
{
    /// <summary>A frame at least this likely begins speech (Silero's usual threshold, from memory).</summary>
    public const float OnsetProbability = 0.5f;

    /// <summary>A frame at least this likely continues it.</summary>
    public const float ContinueProbability = 0.35f;

    /// <summary>Frames without speech that end an utterance (384 ms, measured to close 430-560 ms after the speech).</summary>
    public const int HangoverFrames = 12;

    /// <summary>Sound kept before the onset (256 ms): the detector is late on soft first sounds.</summary>
    public const int PreRollFrames = 8;

    /// <summary>Sound kept after the last speech (192 ms).</summary>
    public const int TailFrames = 6;

    /// <summary>Fewer frames of speech than this (64 ms) are a click or a knock.</summary>
    public const int LeastSpeechFrames = 2;

    /// <summary>Longest utterance (8 s). "Minus one two three four decimal five volts d c" takes 5.</summary>
    public const int MostFrames = 250;

    private const int NoiseFrames = 64;

    private readonly ISpeechProbability detector;
    private readonly Queue<float[]> preRoll = new();
    private readonly Queue<double> noise = new();
    private readonly List<float[]> speech = [];
    private long position;
    private long onset;
    private int quietFrames;
    private int speechFrames;
    private int quietWanted;

    /// <summary>A segmenter that asks the given detector.</summary>
    public UtteranceSegmenter(ISpeechProbability detector)
    {
        ArgumentNullException.ThrowIfNull(detector);
        this.detector = detector;
    }

    /// <summary>Samples taken so far.</summary>
    public long Position => position;

    /// <summary>True from an onset to the utterance's end.</summary>
    public bool InSpeech => speech.Count > 0;

    /// <summary>Takes one frame of 512 samples. The utterance that ended with it, or null.</summary>
    public Utterance? Take(ReadOnlySpan<float> frame)
    {
        var probability = detector.Of(frame);
        var copy = frame.ToArray();
        position += frame.Length;
        if (quietWanted > 0)
        {
            AwaitQuiet(copy, probability);
            return null;
        }

        if (!InSpeech)
        {
            if (probability < OnsetProbability)
            {
                KeepQuiet(copy);
                return null;
            }

            onset = position - frame.Length;
            speechFrames = quietFrames = 0;
            speech.AddRange(preRoll);
            preRoll.Clear();
        }

        speech.Add(copy);
        quietFrames = probability >= ContinueProbability ? 0 : quietFrames + 1;
        speechFrames += probability >= OnsetProbability ? 1 : 0;
        var tooLong = speech.Count >= MostFrames + PreRollFrames;
        return quietFrames >= HangoverFrames || tooLong ? Close(tooLong) : null;
    }

    /// <summary>Skips a frame that must not be heard and drops an utterance in progress.</summary>
    public void Skip(int samples)
    {
        position += samples;
        if (InSpeech || preRoll.Count > 0)
        {
            speech.Clear();
            preRoll.Clear();
            detector.Reset();
        }
    }

    /// <summary>
    /// Sound is missing here. The utterance in progress is given back as cut short, and what follows is not heard before a pause as long as one
    /// that ends an utterance: it may be the rest of a sentence whose beginning is lost.
    /// </summary>
    public Utterance? Break()
    {
        var broken = InSpeech ? Close(true) : null;
        preRoll.Clear();
        detector.Reset();
        quietWanted = HangoverFrames;
        return broken;
    }

    /// <summary>Ends the utterance in progress, if there is one: the source has ended.</summary>
    public Utterance? Finish() => InSpeech ? Close(false) : null;

    private void AwaitQuiet(float[] frame, float probability)
    {
        if (probability >= ContinueProbability)
        {
            quietWanted = HangoverFrames;
            preRoll.Clear();
            return;
        }

        quietWanted--;
        KeepQuiet(frame);
    }

    private Utterance? Close(bool cutShort)
    {
        var kept = speech.Count - Math.Max(0, quietFrames - TailFrames);
        var end = position - ((long)quietFrames * AudioFormat.FrameSamples);
        var samples = new float[kept * AudioFormat.FrameSamples];
        for (var n = 0; n < kept; n++)
        {
            speech[n].CopyTo(samples, n * AudioFormat.FrameSamples);
        }

        foreach (var frame in speech.Skip(Math.Max(kept, speech.Count - PreRollFrames)))
        {
            preRoll.Enqueue(frame);
        }

        speech.Clear();
        return speechFrames < LeastSpeechFrames
            ? null
            : new Utterance(samples, onset, end, noise.Count == 0 ? null : noise.Average(), cutShort);
    }

    private void KeepQuiet(float[] frame)
    {
        preRoll.Enqueue(frame);
        if (preRoll.Count > PreRollFrames)
        {
            // A frame leaves the pre-roll before it counts as noise, so that a soft onset does not.
            noise.Enqueue(Power(preRoll.Dequeue()));
        }

        if (noise.Count > NoiseFrames)
        {
            noise.Dequeue();
        }
    }

    private static double Power(float[] frame)
    {
        double sum = 0;
        foreach (var sample in frame)
        {
            sum += sample * sample;
        }

        return sum / frame.Length;
    }
}
