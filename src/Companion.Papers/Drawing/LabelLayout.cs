using Companion.Papers.Coding;
using Companion.Papers.Words;

namespace Companion.Papers.Drawing;

/// <summary>
/// The label on its one page, as large as it fits. Rows that do not fit at the least size are left out from the end, and the label says where
/// they stand. One thread, used once.
/// </summary>
internal sealed class LabelLayout(TypeCase type, Paper paper, PaperCode? code)
{
    /// <summary>Least size of its words: still read at arm's length.</summary>
    public const float Least = 7.5f;

    /// <summary>What stands at the end of a label that could not hold everything.</summary>
    public const string More = "... see hand-over sheet";

    private const float Most = 13;
    private const float Step = 0.5f;
    private const float StandingMore = 1.45f;
    private const float Gap = 4;

    /// <summary>Side of the square code: 36 mm give a module of 0.34 mm at version 20.</summary>
    private static readonly float CodeSide = PageShape.Points(36);

    private static readonly Lettering Title = new(21, true);
    private static readonly Lettering Band = new(10.5f, true);
    private static readonly Lettering Small = new(7);
    private static readonly Lettering Digits = new(8.5f, true);

    private readonly PageShape _shape = PageShape.Label;
    private readonly DraftPage _page = new();
    private float _y;

    /// <summary>The page.</summary>
    public DraftPage Page()
    {
        Head();
        var bottom = _shape.Height - _shape.Margin - FootHeight;
        var size = Most;
        var lines = Lines(size);
        while (size > Least && Height(lines) > bottom - _y)
        {
            size -= Step;
            lines = Lines(size);
        }

        Draw(Shortened(lines, bottom - _y, size));
        Foot(bottom);
        return _page;
    }

    private float FootHeight => CodeSide + Digits.Leading;

    private void Head()
    {
        _y = _shape.Margin;
        Strip(type.Printable(paper.Title.ToUpperInvariant()), Title, 29);
        if (paper.Rehearsal)
        {
            _y += 2;
            Strip(Paper.RehearsalWords, Band, 16);
        }

        if (paper.StillOpen)
        {
            _y += 2;
            Add(new FrameMark(_shape.Margin, _y, _shape.Inner, 15, 1.2f));
            Add(new TextMark(_shape.Margin + Gap, _y + 11, paper.AsOf is { } asOf ? $"{Paper.StillOpenWords}. As of {PaperText.Time(asOf)}" : Paper.StillOpenWords, Band with { Size = 9 }));
            _y += 15;
        }

        _y += Gap;
    }

    private void Strip(string words, Lettering wanted, float height)
    {
        var lettering = LineBreaker.Fitting(type, words, wanted, Least, _shape.Inner - (2 * Gap));
        Add(new BoxMark(_shape.Margin, _y, _shape.Inner, height));
        Add(new TextMark((_shape.Width - type.Width(words, lettering)) / 2, _y + (height / 2) + (lettering.Size * 0.36f), words, lettering, true));
        _y += height;
    }

    private List<Line> Lines(float size)
    {
        var standing = new Lettering(size * StandingMore, true);
        var lines = Broken(paper.Standing, standing, 0, 0).ToList();
        foreach (var section in paper.Sections)
        {
            lines.AddRange(SectionOf(section, size));
        }

        return lines;
    }

    private IEnumerable<Line> SectionOf(PaperSection section, float size)
    {
        var (body, bold) = (new Lettering(size), new Lettering(size, true));
        if (section.Emphasis == PaperEmphasis.Warning)
        {
            yield return new Line(section.Heading, bold, Gap + 1, Gap, true);
        }

        var first = section.Emphasis != PaperEmphasis.Warning;
        foreach (var row in section.Rows)
        {
            var text = row.Label is null ? row.Text : $"{row.Label}: {row.Text}";
            foreach (var line in Broken(text, section.Emphasis == PaperEmphasis.Plain ? body : bold, first ? Gap : 1, 0))
            {
                yield return line;
            }

            first = false;
        }
    }

    private IEnumerable<Line> Broken(string text, Lettering lettering, float before, float indent) => LineBreaker.Lines(type, text, lettering, _shape.Inner - indent)
        .Select((line, index) => new Line(line, lettering, index == 0 ? before : 0, indent, false, index > 0));

    private static float Height(IEnumerable<Line> lines) => lines.Sum(line => line.Height);

    private static List<Line> Shortened(List<Line> lines, float room, float size)
    {
        if (Height(lines) <= room)
        {
            return lines;
        }

        var more = new Line(More, new Lettering(size, true), 1, 0, false);
        var used = more.Height;
        var fitting = lines.TakeWhile(line => (used += line.Height) <= room).Count();
        while (fitting > 0 && lines[fitting].GoesOn)
        {
            // Half a row can say the opposite of the whole.
            fitting--;
        }

        return [.. lines.Take(fitting), more];
    }

    private void Draw(List<Line> lines)
    {
        foreach (var line in lines)
        {
            _y += line.Before;
            if (line.Inverse)
            {
                Add(new BoxMark(_shape.Margin, _y, _shape.Inner, line.Lettering.Leading + 1));
            }

            Add(new TextMark(_shape.Margin + line.Indent, _y + line.Lettering.Ascent, line.Text, line.Lettering, line.Inverse));
            _y += line.Height - line.Before;
        }
    }

    private void Foot(float top)
    {
        Add(new BoxMark(_shape.Margin, top, _shape.Inner, 1.2f));
        var left = _shape.Margin;
        if (code is not null)
        {
            Add(new CodeMark(_shape.Width - _shape.Margin - CodeSide, top + 3, CodeSide, QrSquare.Of(code.Text)));
            Add(new TextMark(_shape.Width - _shape.Margin - type.Width(code.Digits, Digits), top + CodeSide + Digits.Ascent, code.Digits, Digits));
        }

        var width = _shape.Inner - CodeSide - Gap;
        var y = top + 7;
        foreach (var line in FootLines().SelectMany(text => LineBreaker.Lines(type, text, Small, width)).Take((int)((FootHeight - 4) / Small.Leading)))
        {
            Add(new TextMark(left, y + Small.Ascent, line, Small));
            y += Small.Leading;
        }
    }

    private IEnumerable<string> FootLines() =>
    [
        $"Job {paper.Job}, to entry {PaperText.Number(paper.LastSequence)}{(paper.AsOf is { } asOf ? $", {PaperText.Time(asOf)}" : string.Empty)}.",
        $"Hash {(paper.HeadHash.Length > PaperStatement.HashDigits ? paper.HeadHash[..PaperStatement.HashDigits] : paper.HeadHash)}",
        .. paper.Cautions,
        code is null ? "No code: nobody could sign this label." : "The code says this in signed words.",
    ];

    private void Add(Mark mark) => _page.Marks.Add(mark);

    private sealed record Line(string Text, Lettering Lettering, float Before, float Indent, bool Inverse, bool GoesOn = false)
    {
        public float Height => Before + Lettering.Leading + (Inverse ? 2.5f : 0);
    }
}
