namespace Companion.Voice.Ear;

/// <summary>How words are spoken: every way as phone names. Immutable; safe for many threads.</summary>
public sealed class Lexicon
{
    private readonly Dictionary<string, IReadOnlyList<IReadOnlyList<string>>> words;

    private Lexicon(Dictionary<string, IReadOnlyList<IReadOnlyList<string>>> words) => this.words = words;

    /// <summary>All words.</summary>
    public IReadOnlyCollection<string> Words => words.Keys;

    /// <summary>Reads assets/lexicon/lexicon.txt.</summary>
    /// <exception cref="InvalidDataException">A line is not a word and its phones; the message names the line.</exception>
    public static Lexicon Load(string path) => Parse(File.ReadLines(path));

    /// <summary>Reads lines of "word PHONE PHONE ..."; "#" begins a comment line.</summary>
    /// <exception cref="InvalidDataException">A line is not a word and its phones; the message names the line.</exception>
    public static Lexicon Parse(IEnumerable<string> lines)
    {
        var words = new Dictionary<string, List<IReadOnlyList<string>>>(StringComparer.Ordinal);
        var number = 0;
        foreach (var line in lines)
        {
            number++;
            var parts = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            if (parts.Length == 0 || parts[0].StartsWith('#'))
            {
                continue;
            }

            if (parts.Length == 1 || Array.Exists(parts[1..], phone => !Phones.Alphabetical.TryIndex(phone, out _)))
            {
                throw new InvalidDataException($"Lexicon, line {number}: \"{line}\" is not a word and its phones.");
            }

            if (!words.TryGetValue(parts[0], out var ways))
            {
                words[parts[0]] = ways = [];
            }

            ways.Add(parts[1..]);
        }

        return new Lexicon(words.ToDictionary(pair => pair.Key, pair => (IReadOnlyList<IReadOnlyList<string>>)pair.Value, StringComparer.Ordinal));
    }

    /// <summary>Every way a word is spoken; empty when it is missing.</summary>
    public IReadOnlyList<IReadOnlyList<string>> Ways(string word) => words.GetValueOrDefault(word) ?? [];
}
