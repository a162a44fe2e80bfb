using Companion.Voice.Detection;

namespace Companion.Voice.Ear;

/// <summary>From an utterance to a recognition: features, network, decoder, thresholds. Safe for many threads.</summary>
public sealed class Recogniser
{
    private readonly IAcousticModel model;
    private readonly PhraseMatcher matcher;
    private readonly FeatureExtractor extractor = new();

    /// <summary>A recogniser.</summary>
    /// <param name="model">The network.</param>
    /// <param name="lexicon">How words are spoken.</param>
    /// <param name="strict">Thresholds; those of <see cref="EarThresholds.Strict"/> by default.</param>
    /// <param name="loose">Thresholds for stop and help; those of <see cref="EarThresholds.Loose"/> by default.</param>
    public Recogniser(IAcousticModel model, Lexicon lexicon, EarThresholds? strict = null, EarThresholds? loose = null)
    {
        ArgumentNullException.ThrowIfNull(model);
        this.model = model;
        matcher = new PhraseMatcher(strict ?? EarThresholds.Strict, loose ?? EarThresholds.Loose);
        Compiler = new PhraseCompiler(lexicon, model.Phones);
    }

    /// <summary>Makes phrases ready for this recogniser.</summary>
    public PhraseCompiler Compiler { get; }

    /// <summary>Recognises one utterance and tells its signal-to-noise ratio in decibels.</summary>
    public (Recognition Recognition, int SignalToNoise) Recognise(Utterance utterance, IReadOnlyList<CompiledPhrase> phrases)
    {
        ArgumentNullException.ThrowIfNull(utterance);
        var signalToNoise = SignalToNoise.Estimate(utterance);
        var features = utterance.CutShort ? new Features(0, []) : extractor.Extract(utterance.Samples);
        return features.Frames == 0
            ? (Recognition.Nothing, signalToNoise)
            : (matcher.Match(phrases, model.Score(features), signalToNoise), signalToNoise);
    }
}
