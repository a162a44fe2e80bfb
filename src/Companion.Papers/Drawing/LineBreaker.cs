using System.Globalization;
using System.Text;

namespace Companion.Papers.Drawing;

/// <summary>Breaks text into lines that fit: between words, and within a word that is wider than a line. No letter is lost.</summary>
internal static class LineBreaker
{
    public static List<string> Lines(TypeCase type, string text, Lettering lettering, float width)
    {
        var lines = new List<string>();
        var line = new StringBuilder();
        var used = 0f;
        var space = type.Width(" ", lettering);
        foreach (var word in type.Printable(text).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).SelectMany(word => Pieces(type, word, lettering, width)))
        {
            var wide = type.Width(word, lettering);
            if (line.Length > 0 && used + space + wide > width)
            {
                lines.Add(line.ToString());
                line.Clear();
                used = 0;
            }

            used += line.Length > 0 ? space + wide : wide;
            _ = line.Length > 0 ? line.Append(' ').Append(word) : line.Append(word);
        }

        if (line.Length > 0)
        {
            lines.Add(line.ToString());
        }

        return lines;
    }

    /// <summary>The largest size at which a text stands in one line; the least size when it never does.</summary>
    public static Lettering Fitting(TypeCase type, string text, Lettering wanted, float least, float width) =>
        Fitting(wanted, least, lettering => Lines(type, text, lettering, width).Count <= 1);

    /// <summary>The largest size at which a text stands in so much height; the least size when it never does.</summary>
    public static Lettering Fitting(TypeCase type, string text, Lettering wanted, float least, float width, float height) =>
        Fitting(wanted, least, lettering => Lines(type, text, lettering, width).Count * lettering.Leading <= height);

    private static Lettering Fitting(Lettering wanted, float least, Func<Lettering, bool> fits)
    {
        var lettering = wanted;
        while (lettering.Size > least && !fits(lettering))
        {
            lettering = lettering with { Size = Math.Max(least, lettering.Size - 0.5f) };
        }

        return lettering;
    }

    private static IEnumerable<string> Pieces(TypeCase type, string word, Lettering lettering, float width)
    {
        if (type.Width(word, lettering) <= width)
        {
            yield return word;
            yield break;
        }

        var piece = new StringBuilder();
        var letters = StringInfo.GetTextElementEnumerator(word);
        while (letters.MoveNext())
        {
            var letter = letters.GetTextElement();
            if (piece.Length > 0 && type.Width(piece + letter, lettering) > width)
            {
                yield return piece.ToString();
                piece.Clear();
            }

            piece.Append(letter);
        }

        yield return piece.ToString();
    }
}
