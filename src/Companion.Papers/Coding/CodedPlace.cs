using System.Text;

namespace Companion.Papers.Coding;

/// <summary>A test place in a code.</summary>
/// <param name="Name">Its name, cut to <see cref="MostBytes"/>.</param>
/// <param name="ProvedDead">When it was proved dead, in whole minutes; null when it is not, or no longer.</param>
public sealed record CodedPlace(string Name, DateTimeOffset? ProvedDead)
{
    /// <summary>Most bytes of a name, in UTF-8: three such places leave room for everything else in a QR code that a telephone reads off wet paper.</summary>
    public const int MostBytes = 24;

    /// <summary>A place whose name is cut, and cannot break the lines of a code.</summary>
    public static CodedPlace Of(string name, DateTimeOffset? provedDead)
    {
        var cut = new StringBuilder();
        var left = MostBytes;
        foreach (var letter in name.Trim().EnumerateRunes())
        {
            left -= letter.Utf8SequenceLength;
            if (left < 0)
            {
                break;
            }

            cut.Append(Rune.IsControl(letter) ? " " : letter.ToString());
        }

        return new CodedPlace(cut.ToString().TrimEnd(), provedDead);
    }
}
