using Companion.Voice.Ear;

namespace Companion.Voice.Tests.Support;

/// <summary>Made-up network output: sure of given phones, one frame each, blanks between.</summary>
public static class Peaky
{
    /// <summary>Phones by name; "_" is a long pause.</summary>
    public static Posteriors Of(string phones, float sureness = 0.95f)
    {
        List<int> symbols = [Phones.Blank, Phones.Blank];
        foreach (var name in phones.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (name == "_")
            {
                symbols.AddRange(Enumerable.Repeat(Phones.Blank, 20));
                continue;
            }

            Assert.True(Phones.Alphabetical.TryIndex(name, out var index), name);
            symbols.AddRange([index, Phones.Blank, Phones.Blank]);
        }

        return Rows(symbols.Select(symbol => (symbol, sureness)));
    }

    /// <summary>The first pronunciation of every word.</summary>
    public static Posteriors Words(string words, float sureness = 0.95f) => Of(PhonesOf(words), sureness);

    public static string PhonesOf(string words) =>
        string.Join(' ', words.Split(' ').Select(word => string.Join(' ', Assets.Lexicon.Ways(word)[0])));

    public static Posteriors Silence(int frames) => Rows(Enumerable.Repeat((Phones.Blank, 0.99f), frames));

    public static Posteriors Noise(int frames, int seed)
    {
        var random = new Random(seed);
        return Rows(Enumerable.Range(0, frames).Select(_ => (random.Next(Phones.Count), 0.3f + (0.5f * random.NextSingle()))));
    }

    private static Posteriors Rows(IEnumerable<(int Symbol, float Sureness)> frames)
    {
        List<float> values = [];
        foreach (var (symbol, sureness) in frames)
        {
            var rest = MathF.Log((1 - sureness) / (Phones.Count - 1));
            values.AddRange(Enumerable.Range(0, Phones.Count).Select(n => n == symbol ? MathF.Log(sureness) : rest));
        }

        return new Posteriors([.. values]);
    }
}
