using System.Diagnostics;
using System.Globalization;
using System.Text;
using Companion.Papers.Coding;
using Companion.Papers.Drawing;
using Companion.Papers.Reading;
using Companion.Papers.Tests.Coding;
using Companion.Papers.Words;
using Companion.Review;

namespace Companion.Papers.Tests.Drawing;

/// <summary>A PDF in a file of its own, looked at with Poppler's tools (Debian poppler-utils): by other hands than drew it.</summary>
internal sealed class DrawnPaper : IDisposable
{
    private readonly string _file = Path.Combine(Path.GetTempPath(), $"paper-{Guid.NewGuid():N}.pdf");

    public DrawnPaper(byte[] pdf, string? keepAs = null)
    {
        File.WriteAllBytes(_file, pdf);
        if (keepAs is not null && Environment.GetEnvironmentVariable("COMPANION_SCREENSHOTS") is { Length: > 0 } folder)
        {
            Directory.CreateDirectory(folder);
            File.WriteAllBytes(Path.Combine(folder, $"{keepAs}.pdf"), pdf);
        }
    }

    public static DrawnPaper Of(Paper paper, RecordedJob record, string? keepAs = null) => new(PaperPdf.Draw(paper, CodeOf(record)), keepAs);

    public static PaperCode CodeOf(RecordedJob record)
    {
        var signer = new TestSigner();
        return PaperCode.Of(PaperStatement.Of(record, signer.Tablet)!, signer);
    }

    /// <summary>The text of all pages, as a search finds it, every space and line end one space.</summary>
    public string Text() => string.Join(' ', Encoding.UTF8.GetString(Run("pdftotext", "-layout", _file, "-")).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    /// <summary>The text of each page.</summary>
    public IReadOnlyList<string> PageTexts() => Encoding.UTF8.GetString(Run("pdftotext", _file, "-")).TrimEnd('\f').Split('\f');

    /// <summary>The fonts: whether each is inside.</summary>
    public IReadOnlyList<bool> FontsEmbedded() => [.. Encoding.UTF8.GetString(Run("pdffonts", _file)).Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(2)
        .Select(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries)[^5] == "yes")];

    public string Info() => Encoding.UTF8.GetString(Run("pdfinfo", _file));

    /// <summary>Boxes of every word: page size and the outermost edges that text reaches, in points.</summary>
    public IEnumerable<(double Width, double Height, double Left, double Top, double Right, double Bottom)> Edges()
    {
        foreach (var page in System.Xml.Linq.XDocument.Parse(Encoding.UTF8.GetString(Run("pdftotext", "-bbox", _file, "-"))).Descendants().Where(each => each.Name.LocalName == "page"))
        {
            var words = page.Elements().ToList();
            yield return (Number(page, "width"), Number(page, "height"), words.Min(word => Number(word, "xMin")), words.Min(word => Number(word, "yMin")),
                words.Max(word => Number(word, "xMax")), words.Max(word => Number(word, "yMax")));
        }
    }

    /// <summary>What the reader of photographs reads off a page that was printed at so many dots per inch; null for nothing.</summary>
    public string? Scan(int page, int dots)
    {
        var only = page.ToString(CultureInfo.InvariantCulture);
        return PaperPhoto.Read(Run("pdftoppm", "-gray", "-png", "-r", dots.ToString(CultureInfo.InvariantCulture), "-f", only, "-l", only, _file)).Text;
    }

    public void Dispose() => File.Delete(_file);

    private static double Number(System.Xml.Linq.XElement element, string name) => double.Parse(element.Attribute(name)!.Value, CultureInfo.InvariantCulture);

    private static byte[] Run(string program, params string[] arguments)
    {
        var start = new ProcessStartInfo(program) { RedirectStandardOutput = true };
        foreach (var argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        using var process = Process.Start(start)!;
        using var output = new MemoryStream();
        process.StandardOutput.BaseStream.CopyTo(output);
        process.WaitForExit();
        Assert.Equal(0, process.ExitCode);
        return output.ToArray();
    }
}
