using Companion.Papers.Coding;
using Companion.Papers.Words;

namespace Companion.Papers.Drawing;

/// <summary>
/// A paper on A4 pages: how the vehicle stands first and largest, the code beside it, then the sections and what goes before the paper. A row
/// goes to the next page as a whole if it fits one. One thread, used once.
/// </summary>
internal sealed class SheetLayout(TypeCase type, Paper paper, PaperCode? code)
{
    private const float LabelShare = 0.26f;
    private const float Gap = 9;
    private const float Indent = 9;

    private static readonly Lettering Body = new(9.5f);
    private static readonly Lettering Label = new(9.5f, true);
    private static readonly Lettering Loud = new(11.5f, true);
    private static readonly Lettering Heading = new(11, true);
    private static readonly Lettering Standing = new(26, true);
    private static readonly Lettering Small = new(7.5f);
    private static readonly Lettering Digits = new(10.5f, true);

    /// <summary>Least size of the standing, the largest words: it is made smaller to be as high as the code beside it; below this the frame grows.</summary>
    private const float LeastStanding = 14;

    /// <summary>Side of the square code with its quiet zone: 44 mm give a module of 0.42 mm at version 20.</summary>
    private static readonly float CodeSide = PageShape.Points(44);

    private readonly PageShape _shape = PageShape.A4;
    private readonly PageFlow _flow = new(type, paper, PageShape.A4);

    /// <summary>The pages.</summary>
    public IReadOnlyList<DraftPage> Pages()
    {
        Head();
        foreach (var section in paper.Sections)
        {
            Section(section);
        }

        Foot();
        return _flow.Finish();
    }

    /// <summary>The standing in its frame, the code at its right.</summary>
    private void Head()
    {
        var width = code is null ? _shape.Inner : _shape.Inner - CodeSide - Gap;
        var asOf = LineBreaker.Lines(type, AsOf(), Label, width - (2 * Gap));
        var height = CodeSide + Digits.Leading + Small.Leading;
        var around = (asOf.Count * Label.Leading) + (2 * Gap);
        var lettering = LineBreaker.Fitting(type, paper.Standing, Standing, LeastStanding, width - (2 * Gap), height - around - Gap);
        var lines = LineBreaker.Lines(type, paper.Standing, lettering, width - (2 * Gap));
        var needed = (lines.Count * lettering.Leading) + around;
        height = Math.Max(height, needed);
        var top = _flow.Y;
        _flow.Add(new FrameMark(_shape.Margin, top, width, height, 2.2f));
        _flow.Lines(lines, _shape.Margin + Gap, lettering, Gap);
        _flow.Lines(asOf, _shape.Margin + Gap, Label, height - needed);
        if (code is not null)
        {
            CodeAt(_shape.Margin + width + Gap, top);
        }

        _flow.Skip(top + height - _flow.Y);
    }

    private string AsOf() => paper.AsOf is { } asOf
        ? $"{(paper.StillOpen ? $"{Paper.StillOpenWords}: as it stood at" : "As of")} entry {PaperText.Number(paper.LastSequence)}, {PaperText.Time(asOf)}"
        : "The record holds no entry.";

    private void CodeAt(float x, float top)
    {
        _flow.Add(new CodeMark(x, top, CodeSide, QrSquare.Of(code!.Text)));
        Centred(code.Digits, Digits, x, top + CodeSide + Digits.Ascent - 3);
        Centred("Check digits, for the watch room", Small, x, top + CodeSide + Digits.Leading + Small.Ascent - 3);
    }

    private void Centred(string text, Lettering lettering, float x, float baseline) =>
        _flow.Add(new TextMark(x + ((CodeSide - type.Width(text, lettering)) / 2), baseline, text, lettering));

    private void Section(PaperSection section)
    {
        var rows = section.Rows.Select(row => RowOf(section, row)).ToList();
        _flow.Skip(Gap);

        // A heading never stands alone at the end of a page; a short section stays together.
        var whole = rows.Sum(row => row.Height);
        _flow.Need(Heading.Leading + 8 + (whole < _flow.Whole / 6 ? whole : Math.Min(rows.Take(2).Sum(row => row.Height), 6 * Body.Leading)));
        HeadingOf(section);
        foreach (var row in rows)
        {
            _flow.Need(row.Height > _flow.Whole ? row.Lettering.Leading : row.Height);
            Draw(section, row);
        }
    }

    private void HeadingOf(PaperSection section)
    {
        var warning = section.Emphasis == PaperEmphasis.Warning;
        var height = Heading.Leading + 4;
        _flow.Add(warning
            ? new BoxMark(_shape.Margin, _flow.Y, _shape.Inner, height)
            : new BoxMark(_shape.Margin, _flow.Y + height - 1.2f, _shape.Inner, section.Emphasis == PaperEmphasis.Strong ? 2.4f : 0.9f));
        _flow.Add(new TextMark(_shape.Margin + (warning ? Indent : 0), _flow.Y + Heading.Ascent + 2.5f, type.Printable(section.Heading), Heading, warning));
        _flow.Skip(height + 3);
    }

    private Row RowOf(PaperSection section, PaperRow row)
    {
        var indent = row.Under || section.Emphasis == PaperEmphasis.Warning ? Indent : 0;
        var left = row.Label is null ? indent : _shape.Inner * LabelShare;
        var lettering = section.Emphasis == PaperEmphasis.Plain ? Body : Loud;
        var labelled = row.Under ? Body : Label;
        var label = row.Label is null ? [] : LineBreaker.Lines(type, row.Label, labelled, left - indent - 6);
        return new Row(label, labelled, LineBreaker.Lines(type, row.Text, lettering, _shape.Inner - left), lettering, indent, left);
    }

    /// <summary>Line by line, so that a row longer than a page goes on where the page ends.</summary>
    private void Draw(PaperSection section, Row row)
    {
        for (var line = 0; line < Math.Max(row.Label.Count, row.Text.Count); line++)
        {
            _flow.Need(row.Lettering.Leading);
            if (section.Emphasis == PaperEmphasis.Warning)
            {
                _flow.Add(new BoxMark(_shape.Margin, _flow.Y - 3, 3, row.Lettering.Leading + 5.2f));
            }

            Part(row.Label, line, row.Indent, row.Labelled, row);
            Part(row.Text, line, row.Left, row.Lettering, row);
            _flow.Skip(row.Lettering.Leading);
        }

        _flow.Skip(Row.After);
    }

    private void Part(List<string> lines, int line, float x, Lettering lettering, Row row)
    {
        if (line < lines.Count)
        {
            _flow.Add(new TextMark(_shape.Margin + x, _flow.Y + row.Lettering.Ascent, lines[line], lettering));
        }
    }

    private void Foot()
    {
        var cautions = paper.Cautions.Select(caution => LineBreaker.Lines(type, caution, Body, _shape.Inner)).ToList();
        _flow.Skip(Gap);
        _flow.Need(cautions.Sum(lines => (lines.Count * Body.Leading) + 3) + 8);
        _flow.Add(new BoxMark(_shape.Margin, _flow.Y, _shape.Inner, 2.4f));
        _flow.Skip(8);
        foreach (var lines in cautions)
        {
            _flow.Lines(lines, _shape.Margin, Body, 0);
            _flow.Skip(3);
        }

        if (code is null)
        {
            _flow.Lines(["This paper has no code: nobody could sign it. Compare it with the record."], _shape.Margin, Label, 0);
        }
    }

    private sealed record Row(List<string> Label, Lettering Labelled, List<string> Text, Lettering Lettering, float Indent, float Left)
    {
        public const float After = 2.2f;

        public float Height => (Math.Max(Label.Count, Text.Count) * Lettering.Leading) + After;
    }
}
