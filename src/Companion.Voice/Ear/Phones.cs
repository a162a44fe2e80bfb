namespace Companion.Voice.Ear;

/// <summary>The symbols of the network: the blank first, then the 39 phones of the CMU dictionary, in the order of the model's phones.txt.</summary>
public sealed class Phones
{
    /// <summary>Symbols, the blank included.</summary>
    public const int Count = 40;

    /// <summary>The blank's index.</summary>
    public const int Blank = 0;

    private const string BlankName = "<blank>";

    private readonly Dictionary<string, int> indexes;

    /// <summary>The phones in the order given, the blank first.</summary>
    /// <exception cref="InvalidDataException">Not the blank and 39 different phones.</exception>
    public Phones(IEnumerable<string> names)
    {
        Names = [.. names.Select(name => name.Trim()).Where(name => name.Length > 0)];
        indexes = Names.Distinct().Select((name, index) => (name, index)).ToDictionary(pair => pair.name, pair => pair.index);
        if (Names.Count != Count || indexes.Count != Count || Names[Blank] != BlankName)
        {
            throw new InvalidDataException($"phones.txt must hold {BlankName} and then 39 different phones, one a line.");
        }
    }

    /// <summary>The usual order: alphabetical, as the CMU dictionary lists its phones.</summary>
    public static Phones Alphabetical { get; } = new(
        ("<blank> AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W Y Z ZH").Split(' '));

    /// <summary>The names by index.</summary>
    public IReadOnlyList<string> Names { get; }

    /// <summary>Reads phones.txt.</summary>
    /// <exception cref="InvalidDataException">Not the blank and 39 different phones.</exception>
    public static Phones Load(string path) => new(File.ReadLines(path));

    /// <summary>A phone's index; false when there is no such phone.</summary>
    public bool TryIndex(string name, out int index) => indexes.TryGetValue(name, out index) && index != Blank;
}
