namespace Companion.Voice.Ear;

/// <summary>
/// Builds a pattern's phone graph by Glushkov's construction: first, last and following phones of every part, so no empty moves remain.
/// </summary>
public sealed class PhoneGraphBuilder
{
    /// <summary>Most phones in one pattern's graph.</summary>
    public const int MaximumNodes = 4_000;

    private readonly Lexicon lexicon;
    private readonly Phones phones;
    private readonly List<(int Phone, string Word, bool StartsWord)> nodes = [];
    private readonly List<HashSet<int>> before = [];

    private PhoneGraphBuilder(Lexicon lexicon, Phones phones)
    {
        this.lexicon = lexicon;
        this.phones = phones;
    }

    /// <summary>The graph of a parsed pattern.</summary>
    /// <exception cref="PatternException">A word is not in the lexicon, nothing need be said, or the graph is too large.</exception>
    public static PhoneGraph Build(PatternNode pattern, Lexicon lexicon, Phones phones)
    {
        ArgumentNullException.ThrowIfNull(pattern);
        ArgumentNullException.ThrowIfNull(lexicon);
        ArgumentNullException.ThrowIfNull(phones);
        var builder = new PhoneGraphBuilder(lexicon, phones);
        var whole = builder.Part(pattern);
        if (whole.Empty)
        {
            throw new PatternException("A pattern must not be wholly optional: silence would match it.");
        }

        var mayStart = new bool[builder.nodes.Count];
        foreach (var first in whole.First)
        {
            mayStart[first] = true;
        }

        var (junctions, ofNode) = builder.Junctions();
        var nodes = builder.nodes.Select((node, n) => new PhoneNode(node.Phone, node.Word, node.StartsWord, ofNode[n]));
        return new PhoneGraph([.. nodes], junctions, mayStart, [.. whole.Last]);
    }

    private (int[][] Junctions, int[] OfNode) Junctions()
    {
        var indexes = new Dictionary<string, int>(StringComparer.Ordinal);
        List<int[]> junctions = [];
        var ofNode = before.Select(set =>
        {
            int[] sorted = [.. set.Order()];
            var key = string.Join(',', sorted);
            if (indexes.TryAdd(key, junctions.Count))
            {
                junctions.Add(sorted);
            }

            return indexes[key];
        }).ToArray();
        return ([.. junctions], ofNode);
    }

    private Fragment Part(PatternNode node) => node switch
    {
        PatternNode.Word word => Word(word.Text),
        PatternNode.Sequence sequence => sequence.Parts.Select(Part).Aggregate(Follow),
        PatternNode.Choice choice => choice.Parts.Select(Part).Aggregate(
            (one, other) => new Fragment([.. one.First, .. other.First], [.. one.Last, .. other.Last], one.Empty || other.Empty)),
        PatternNode.Optional optional => Part(optional.Part) with { Empty = true },
        PatternNode.Repeated repeated => Loop(Part(repeated.Part)),
        _ => throw new PatternException($"Unknown pattern part {node}."),
    };

    private Fragment Word(string text)
    {
        var ways = lexicon.Ways(text);
        if (ways.Count == 0)
        {
            throw new PatternException($"The word \"{text}\" has no pronunciation: add it to assets/lexicon/lexicon.txt or use another word.");
        }

        List<int> first = [], last = [];
        foreach (var way in ways)
        {
            for (var n = 0; n < way.Count; n++)
            {
                var node = Add(way[n], text, n == 0);
                if (n == 0)
                {
                    first.Add(node);
                }
                else
                {
                    before[node].Add(node - 1);
                }
            }

            last.Add(nodes.Count - 1);
        }

        return new Fragment(first, last, false);
    }

    private int Add(string phone, string word, bool startsWord)
    {
        if (nodes.Count == MaximumNodes)
        {
            throw new PatternException($"The pattern around \"{word}\" has more than {MaximumNodes} phones: make it shorter.");
        }

        if (!phones.TryIndex(phone, out var index))
        {
            throw new PatternException($"The lexicon's \"{word}\" uses the phone {phone}, which the model does not know.");
        }

        nodes.Add((index, word, startsWord));
        before.Add([]);
        return nodes.Count - 1;
    }

    private Fragment Follow(Fragment left, Fragment right)
    {
        Connect(left.Last, right.First);
        return new Fragment(
            left.Empty ? [.. left.First, .. right.First] : left.First,
            right.Empty ? [.. left.Last, .. right.Last] : right.Last,
            left.Empty && right.Empty);
    }

    private Fragment Loop(Fragment part)
    {
        Connect(part.Last, part.First);
        return part;
    }

    private void Connect(List<int> from, List<int> to)
    {
        foreach (var node in to)
        {
            before[node].UnionWith(from);
        }
    }

    private sealed record Fragment(List<int> First, List<int> Last, bool Empty);
}
