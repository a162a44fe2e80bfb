using Companion.Papers.Words;

namespace Companion.Papers.Drawing;

/// <summary>Pages that fill from top to bottom, each with its head and foot. One thread, used once.</summary>
internal sealed class PageFlow
{
    private const float BandHeight = 22;
    private const float FootHeight = 30;

    private static readonly Lettering Title = new(21, true);
    private static readonly Lettering Again = new(10.5f, true);
    private static readonly Lettering Band = new(13, true);
    private static readonly Lettering Foot = new(7.5f);

    /// <summary>Least size of a line that must stay one line: job, title, foot. What is longer even so is broken.</summary>
    private const float Least = 6;

    private readonly TypeCase _type;
    private readonly Paper _paper;
    private readonly PageShape _shape;
    private readonly List<DraftPage> _pages = [];
    private float _top;

    public PageFlow(TypeCase type, Paper paper, PageShape shape)
    {
        (_type, _paper, _shape) = (type, paper, shape);
        Begin();
    }

    /// <summary>Where the next thing begins.</summary>
    public float Y { get; private set; }

    /// <summary>The height that is left on this page.</summary>
    public float Room => Bottom - Y;

    /// <summary>The height of a whole page after the first.</summary>
    public float Whole => Bottom - _top;

    private float Bottom => _shape.Height - _shape.Margin - FootHeight;

    public void Add(Mark mark) => _pages[^1].Marks.Add(mark);

    public void Skip(float height) => Y += height;

    /// <summary>Goes to a new page when so much does not fit on this one, and it would on another.</summary>
    public void Need(float height)
    {
        if (height > Room && Y > _top)
        {
            Begin();
        }
    }

    /// <summary>Lines of text one below the other.</summary>
    public void Lines(IReadOnlyList<string> lines, float x, Lettering lettering, float before)
    {
        Skip(before);
        foreach (var line in lines)
        {
            Need(lettering.Leading);
            Add(new TextMark(x, Y + lettering.Ascent, line, lettering));
            Skip(lettering.Leading);
        }
    }

    /// <summary>The pages with their feet, once it is known how many there are.</summary>
    public IReadOnlyList<DraftPage> Finish()
    {
        for (var number = 1; number <= _pages.Count; number++)
        {
            FootOf(_pages[number - 1], number);
        }

        return _pages;
    }

    private void Begin()
    {
        _pages.Add(new DraftPage());
        Y = _shape.Margin;
        if (_paper.Rehearsal)
        {
            BandAt(Y, Paper.RehearsalWords);
            Skip(BandHeight + 8);
        }

        if (_pages.Count == 1)
        {
            HeadLine(_paper.Title, Title, $"Job {_paper.Job}", Again);
        }
        else
        {
            HeadLine($"{_paper.Title}, continued{(_paper.StillOpen ? $". {Paper.StillOpenWords}" : string.Empty)}", Again, $"Job {_paper.Job}", Again);
            Add(new BoxMark(_shape.Margin, Y - 4, _shape.Inner, 0.9f));
            Skip(4);
        }

        _top = Y;
    }

    private void HeadLine(string left, Lettering large, string right, Lettering small)
    {
        var half = (_shape.Inner / 2) - 6;
        var (leftType, rightType) = (LineBreaker.Fitting(_type, left, large, Least, half), LineBreaker.Fitting(_type, right, small, Least, half));
        var baseline = Y + large.Ascent;
        Add(new TextMark(_shape.Margin, baseline, _type.Printable(left), leftType));
        var below = baseline;
        foreach (var line in LineBreaker.Lines(_type, right, rightType, half))
        {
            Add(new TextMark(_shape.Width - _shape.Margin - _type.Width(line, rightType), below, line, rightType));
            below += rightType.Leading;
        }

        Y = Math.Max(baseline + (large.Leading - large.Ascent), below - rightType.Ascent) + 6;
    }

    private void BandAt(float y, string words)
    {
        Add(new BoxMark(_shape.Margin, y, _shape.Inner, BandHeight));
        Add(new TextMark(_shape.Margin + ((_shape.Inner - _type.Width(words, Band)) / 2), y + 15.5f, words, Band, true));
    }

    private void FootOf(DraftPage page, int number)
    {
        var y = _shape.Height - _shape.Margin - FootHeight + 12;
        page.Marks.Add(new BoxMark(_shape.Margin, y - 8, _shape.Inner, 0.6f));
        var pages = $"Page {PaperText.Number(number)} of {PaperText.Number(_pages.Count)}";
        var right = _shape.Width - _shape.Margin - _type.Width(pages, Foot);
        page.Marks.Add(new TextMark(right, y + 2, pages, Foot));
        var first = $"Job {_paper.Job}, to entry {PaperText.Number(_paper.LastSequence)}. Made {PaperText.Time(_paper.Made)} {PaperText.Offset(_paper.Made)}.{(_paper.Rehearsal ? " " + Paper.RehearsalWords + "." : string.Empty)}";
        Put(page, first, y + 2, right - _shape.Margin - 8);
        Put(page, _paper.HeadHash.Length > 0 ? $"Hash of entry {PaperText.Number(_paper.LastSequence)}: {_paper.HeadHash}" : "The record holds no entry.", y + 12, _shape.Inner);
    }

    private void Put(DraftPage page, string line, float y, float width)
    {
        var lettering = LineBreaker.Fitting(_type, line, Foot, Least, width);
        page.Marks.Add(new TextMark(_shape.Margin, y, LineBreaker.Lines(_type, line, lettering, width)[0], lettering));
    }
}
