using Companion.Engine.Ports;
using Companion.Voice.Detection;
using Companion.Voice.Ear;

namespace Companion.Benchmarks;

/// <summary>The Companion's ear as the product has it, fed with whole clips.</summary>
internal sealed class VoiceEar
{
    private readonly IAcousticModel model;
    private readonly FeatureExtractor extractor = new();
    private readonly PhraseMatcher matcher = new(EarThresholds.Strict, EarThresholds.Loose);
    private readonly PhraseCompiler compiler;

    private VoiceEar(IAcousticModel model, Lexicon lexicon)
    {
        this.model = model;
        Recogniser = new Recogniser(model, lexicon);
        compiler = Recogniser.Compiler;
    }

    internal Recogniser Recogniser { get; }

    /// <summary>The ear of an assets folder; null with the reason when the model is not there.</summary>
    internal static VoiceEar? TryLoad(string assets, out string? reason) =>
        OnnxAcousticModel.TryLoad(Path.Combine(assets, "ear"), out reason) is { } model
            ? new VoiceEar(model, Lexicon.Load(Path.Combine(assets, "lexicon", "lexicon.txt")))
            : null;

    internal IReadOnlyList<CompiledPhrase> Compile(IReadOnlyList<PhrasePattern> patterns) => compiler.Compile(patterns);

    internal Posteriors Score(short[] samples) => model.Score(extractor.Extract(Floats(samples)));

    internal Posteriors Score(Utterance utterance) => model.Score(extractor.Extract(utterance.Samples));

    internal Recognition Match(IReadOnlyList<CompiledPhrase> phrases, Posteriors posteriors, int signalToNoise = SignalToNoise.Most) =>
        matcher.Match(phrases, posteriors, signalToNoise);

    /// <summary>The best candidate, whatever the thresholds say: a closed set.</summary>
    internal static string Best(IReadOnlyList<CompiledPhrase> candidates, Posteriors posteriors) =>
        candidates.MaxBy(candidate => CtcDecoder.Score(candidate.Graph, posteriors))?.Id ?? string.Empty;

    internal static float[] Floats(short[] samples) => [.. samples.Select(value => value / 32768f)];
}
