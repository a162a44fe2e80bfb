using Companion.Papers.Coding;
using Companion.Papers.Words;
using SkiaSharp;

namespace Companion.Papers.Drawing;

/// <summary>
/// A paper as a PDF: black on white, text that can be searched, fonts inside. The same paper and code give the same bytes. Callable from any thread.
/// </summary>
public static class PaperPdf
{
    /// <summary>Stands at the end of a paper with a letter that the font lacks.</summary>
    public const string LettersMissing = "A ? may stand for a letter that this print does not have. The page in the app shows it.";

    /// <summary>Draws a paper.</summary>
    /// <param name="paper">What it says; all of it is drawn, but on a label, which says where the rest is.</param>
    /// <param name="code">Its code; null when nobody could sign, which the paper then says.</param>
    public static byte[] Draw(Paper paper, PaperCode? code)
    {
        using var type = new TypeCase();
        paper = TextsOf(paper).Any(type.Lacks) ? paper with { Cautions = paper.Cautions.Add(LettersMissing) } : paper;
        return paper.Kind == PaperKind.Label
            ? Write(paper, PageShape.Label, [new LabelLayout(type, paper, code).Page()], type)
            : Write(paper, PageShape.A4, new SheetLayout(type, paper, code).Pages(), type);
    }

    private static IEnumerable<string> TextsOf(Paper paper) => paper.Sections.SelectMany(section => section.Rows)
        .SelectMany(row => new[] { row.Label ?? string.Empty, row.Text }).Append(paper.Standing).Append(paper.Job);

    private static byte[] Write(Paper paper, PageShape shape, IReadOnlyList<DraftPage> pages, TypeCase type)
    {
        using var bytes = new MemoryStream();
        var made = paper.Made.UtcDateTime;
        using (var document = SKDocument.CreatePdf(bytes, new SKDocumentPdfMetadata
        {
            Title = $"{paper.Title}, job {paper.Job}",
            Subject = paper.Rehearsal ? Paper.RehearsalWords : paper.Standing,
            Producer = "Companion",
            Creation = made,
            Modified = made,
            RasterDpi = 300,
            EncodingQuality = 101,
        }))
        {
            foreach (var page in pages)
            {
                using var canvas = document.BeginPage(shape.Width, shape.Height);
                foreach (var mark in page.Marks)
                {
                    Draw(canvas, mark, type);
                }

                document.EndPage();
            }

            document.Close();
        }

        return bytes.ToArray();
    }

    private static void Draw(SKCanvas canvas, Mark mark, TypeCase type)
    {
        using var paint = new SKPaint { Color = SKColors.Black, IsAntialias = true };
        switch (mark)
        {
            case TextMark text:
                paint.Color = text.White ? SKColors.White : SKColors.Black;
                canvas.DrawText(text.Text, text.X, text.Y, SKTextAlign.Left, type.Font(text.Lettering), paint);
                break;
            case BoxMark box:
                paint.Color = new SKColor(box.Grey, box.Grey, box.Grey);
                canvas.DrawRect(box.X, box.Y, box.Width, box.Height, paint);
                break;
            case FrameMark frame:
                paint.IsStroke = true;
                paint.StrokeWidth = frame.Thickness;
                var inset = frame.Thickness / 2;
                canvas.DrawRect(frame.X + inset, frame.Y + inset, frame.Width - frame.Thickness, frame.Height - frame.Thickness, paint);
                break;
            case CodeMark code:
                using (var path = PathOf(code))
                {
                    canvas.DrawPath(path, paint);
                }

                break;
        }
    }

    private static SKPath PathOf(CodeMark code)
    {
        var module = code.Side / code.Square.Modules;
        using var path = new SKPathBuilder();
        foreach (var (row, column, length) in code.Square.Runs())
        {
            path.AddRect(SKRect.Create(code.X + (column * module), code.Y + (row * module), length * module, module));
        }

        return path.Detach();
    }
}
