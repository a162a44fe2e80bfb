using Companion.Engine.Ports;

namespace Companion.Voice.Ear;

/// <summary>Turns patterns into graphs and keeps the graphs, because the same phrases come back with every question. Safe for many threads.</summary>
public sealed class PhraseCompiler
{
    /// <summary>Most graphs kept; then all are dropped and built again as needed.</summary>
    public const int MaximumKept = 512;

    /// <summary>Most phrases in one set.</summary>
    public const int MaximumPhrases = 128;

    private readonly Lexicon lexicon;
    private readonly Phones phones;
    private readonly Lock gate = new();
    private readonly Dictionary<string, PhoneGraph> kept = new(StringComparer.Ordinal);

    /// <summary>A compiler for one lexicon and the symbols of one model.</summary>
    public PhraseCompiler(Lexicon lexicon, Phones phones)
    {
        this.lexicon = lexicon;
        this.phones = phones;
    }

    /// <summary>The phrases, ready.</summary>
    /// <exception cref="PatternException">A pattern is malformed or has a word without pronunciation; the message names the phrase.</exception>
    public IReadOnlyList<CompiledPhrase> Compile(IReadOnlyList<PhrasePattern> patterns)
    {
        ArgumentNullException.ThrowIfNull(patterns);
        if (patterns.Count > MaximumPhrases)
        {
            throw new PatternException($"{patterns.Count} phrases at once are too many; at most {MaximumPhrases} may be listened for.");
        }

        return [.. patterns.Select(Compile)];
    }

    private CompiledPhrase Compile(PhrasePattern pattern)
    {
        lock (gate)
        {
            if (kept.TryGetValue(pattern.Pattern, out var graph))
            {
                return new CompiledPhrase(pattern.Id, pattern.Loose, graph);
            }

            try
            {
                graph = PhoneGraphBuilder.Build(PatternParser.Parse(pattern.Pattern), lexicon, phones);
            }
            catch (PatternException fault)
            {
                throw new PatternException($"Phrase \"{pattern.Id}\": {fault.Message}");
            }

            if (kept.Count == MaximumKept)
            {
                kept.Clear();
            }

            kept[pattern.Pattern] = graph;
            return new CompiledPhrase(pattern.Id, pattern.Loose, graph);
        }
    }
}
