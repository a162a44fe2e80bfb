using System.Globalization;
using System.Text;
using SkiaSharp;

namespace Companion.Papers.Drawing;

/// <summary>The letters of one drawing: B612, from the assembly. One thread; disposed with the drawing.</summary>
internal sealed class TypeCase : IDisposable
{
    private const string Unknown = "?";

    /// <summary>Letters of names that B612 lacks, and under each what it becomes; normalisation is not there without globalization data.</summary>
    private const string Accented = "ĀāĂăĄąĆćĊċČčĎďĐđĒēĖėĘęĚěĞğĠġĢģĦħĪīĮįİıĶķĹĺĻļĽľŁłŃńŅņŇňŌōŐőŔŕŘřŚśŞşȘșŢţȚțŤťŪūŮůŰűŲųŴŵŶŷŹźŻżΆΈΉΊΌΎΏάέήίόύώϊϋΐΰ";

    private const string Unaccented = "AaAaAaCcCcCcDdDdEeEeEeEeGgGgGgHhIiIiIiKkLlLlLlLlNnNnNnOoOoRrRrSsSsSsTtTtTtUuUuUuUuWwYyZzZzΑΕΗΙΟΥΩαεηιουωιυιυ";

    private static readonly Lazy<SKTypeface> Regular = new(() => Face("B612-Regular"));
    private static readonly Lazy<SKTypeface> Bold = new(() => Face("B612-Bold"));

    private readonly Dictionary<Lettering, SKFont> _fonts = [];

    /// <summary>The font of a lettering.</summary>
    public SKFont Font(Lettering lettering)
    {
        if (!_fonts.TryGetValue(lettering, out var font))
        {
            // Without hinting a width is the same at every resolution: what was measured is what is printed.
            font = new SKFont(lettering.Bold ? Bold.Value : Regular.Value, lettering.Size)
            {
                Subpixel = true,
                LinearMetrics = true,
                Hinting = SKFontHinting.None,
                Edging = SKFontEdging.Antialias,
            };
            _fonts.Add(lettering, font);
        }

        return font;
    }

    /// <summary>The width of a text in points.</summary>
    public float Width(string text, Lettering lettering) => Font(lettering).MeasureText(text);

    /// <summary>
    /// The text in letters that the font has: one that it lacks loses its accent, and where that does not help a question mark shows the hole.
    /// </summary>
    public string Printable(string text)
    {
        var font = Font(new Lettering(10));
        return font.ContainsGlyphs(text) ? text : string.Concat(text.EnumerateRunes().Select(rune => Printable(font, rune)));
    }

    /// <summary>True when a letter of the text becomes a question mark.</summary>
    public bool Lacks(string text)
    {
        var font = Font(new Lettering(10));
        return !font.ContainsGlyphs(text) && text.EnumerateRunes().Any(rune => !font.ContainsGlyph(rune.Value) && Printable(font, rune) == Unknown);
    }

    private static string Printable(SKFont font, Rune rune)
    {
        var text = rune.ToString();
        var at = Accented.IndexOf(text, StringComparison.Ordinal);
        return font.ContainsGlyph(rune.Value) ? text
            : at >= 0 ? Unaccented[at].ToString()
            : Rune.GetUnicodeCategory(rune) == UnicodeCategory.NonSpacingMark ? string.Empty
            : Unknown;
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var font in _fonts.Values)
        {
            font.Dispose();
        }
    }

    private static SKTypeface Face(string name)
    {
        using var data = typeof(TypeCase).Assembly.GetManifestResourceStream($"font/{name}.otf")
            ?? throw new InvalidOperationException($"The font {name} is not in the assembly.");
        return SKTypeface.FromStream(data) ?? throw new InvalidOperationException($"The font {name} cannot be read.");
    }
}
