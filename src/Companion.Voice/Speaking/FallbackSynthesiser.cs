namespace Companion.Voice.Speaking;

/// <summary>Asks one synthesiser after another until one speaks.</summary>
public sealed class FallbackSynthesiser : ISynthesiser
{
    private readonly IReadOnlyList<ISynthesiser> synthesisers;

    /// <summary>The synthesisers, the best first.</summary>
    public FallbackSynthesiser(params IReadOnlyList<ISynthesiser> synthesisers) => this.synthesisers = synthesisers;

    /// <summary>flite where it is installed, and espeak-ng behind it, with the words respelled that they say as others.</summary>
    public static ISynthesiser Usual() => new RespellingSynthesiser(FliteSynthesiser.TryLoad(out _) is { } flite
        ? new FallbackSynthesiser(flite, new EspeakSynthesiser())
        : new EspeakSynthesiser());

    /// <inheritdoc/>
    public short[] Speak(string text)
    {
        SynthesiserException? last = null;
        foreach (var synthesiser in synthesisers)
        {
            try
            {
                return synthesiser.Speak(text);
            }
            catch (SynthesiserException fault)
            {
                last = fault;
            }
        }

        throw last ?? new SynthesiserException("There is no synthesiser.");
    }
}
