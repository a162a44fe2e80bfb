using System.Collections.Immutable;
using Companion.Contracts;
using Companion.Domain;
using Companion.Domain.Asking;
using Companion.Domain.Sheets;
using Companion.Papers.Coding;
using Companion.Papers.Drawing;
using Companion.Papers.Tests.Coding;
using Companion.Papers.Tests.Words;
using Companion.Papers.Words;
using Companion.Review;
using Companion.TestKit;

namespace Companion.Papers.Tests.Drawing;

public sealed class PaperPdfTests
{
    [Fact]
    public void Every_word_of_a_paper_can_be_found_in_its_pdf_and_every_font_is_inside()
    {
        var record = DemoRecords.Of(DemoRecords.HandedOver());
        foreach (var paper in AllPapers.Of(record).Where(paper => paper.Kind != PaperKind.Label))
        {
            using var drawn = DrawnPaper.Of(paper, record, paper.Kind.ToString());
            var text = drawn.Text();
            var lines = paper.Sections.SelectMany(section => section.Rows).Select(row => row.Text).Concat(paper.Cautions).Append(paper.Standing);
            Assert.All(lines.SelectMany(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries)), word => Assert.Contains(word, text, StringComparison.Ordinal));
            Assert.All(drawn.FontsEmbedded(), Assert.True);
            Assert.NotEmpty(drawn.FontsEmbedded());
        }
    }

    [Fact]
    public void Every_page_has_the_job_the_hash_its_number_and_the_words_of_a_rehearsal()
    {
        var record = DemoRecords.Of(new JobBench().Open(rehearsal: true).Until(NeedKind.Working), StoreKind.Rehearsal);
        var paper = JobReportPaper.Of(record, DemoRecords.SoonAfter(record));
        using var drawn = DrawnPaper.Of(paper, record, "rehearsal");
        var pages = drawn.PageTexts();
        Assert.True(pages.Count > 1);
        Assert.All(pages.Select((page, index) => (page, index)), each =>
        {
            Assert.Contains($"Page {each.index + 1} of {pages.Count}", each.page, StringComparison.Ordinal);
            Assert.Contains("Job job-1", each.page, StringComparison.Ordinal);
            Assert.Contains(paper.HeadHash, each.page, StringComparison.Ordinal);
            Assert.Contains("REHEARSAL: no vehicle was isolated", each.page, StringComparison.Ordinal);
        });
        using var label = DrawnPaper.Of(LabelPaper.Of(record, DemoRecords.SoonAfter(record)), record, "rehearsal-label");
        Assert.Contains("REHEARSAL: no vehicle was isolated", label.Text(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(PaperKind.HandOver, 200)]
    [InlineData(PaperKind.JobReport, 200)]
    [InlineData(PaperKind.Label, 200)]
    [InlineData(PaperKind.Label, 300)]
    public void The_code_is_read_off_the_drawn_page(PaperKind kind, int dots)
    {
        var record = DemoRecords.Of(DemoRecords.HandedOver());
        var signer = new TestSigner();
        var code = PaperCode.Of(PaperStatement.Of(record, signer.Tablet)!, signer);
        using var drawn = new DrawnPaper(PaperPdf.Draw(AllPapers.Of(record).Single(paper => paper.Kind == kind), code), $"coded-{kind}");

        // The signature is another in every run, and so is the code: where none is seen, the telephone is held nearer.
        var scanned = drawn.Scan(1, dots) ?? drawn.Scan(1, 300);
        Assert.Equal(code.Text, scanned);
        Assert.Equal(code.Statement, PaperCode.Read(scanned!, signer.Find).Statement);
        Assert.Contains(code.Digits, drawn.Text(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_code_of_the_greatest_length_needs_no_more_than_version_20() =>
        Assert.InRange(QrSquare.Of(new string('x', PaperCode.MostBytes)).Version, 1, 20);

    [Fact]
    public void The_label_is_one_page_of_100_by_150_millimetres_and_nothing_leaves_it()
    {
        foreach (var bench in new[] { DemoRecords.HandedOver(), new JobBench { Sheet = Wordy() }.Open().Until(NeedKind.Working) })
        {
            var record = DemoRecords.Of(bench);
            using var drawn = DrawnPaper.Of(LabelPaper.Of(record, DemoRecords.SoonAfter(record)), record, $"label-{bench.Sheet.Id}");
            var page = Assert.Single(drawn.Edges());

            // 100 mm and 150 mm in points of 1/72 inch.
            Assert.Equal(283.46, page.Width, 0.5);
            Assert.Equal(425.20, page.Height, 0.5);
            Assert.True(page is { Left: >= 10, Top: >= 10 } && page.Right <= page.Width - 10 && page.Bottom <= page.Height - 6, page.ToString());
        }
    }

    [Fact]
    public void A_label_that_cannot_hold_everything_says_where_the_rest_is()
    {
        var record = DemoRecords.Of(new JobBench { Sheet = Wordy() }.Open().Until(NeedKind.Working));
        var paper = LabelPaper.Of(record, DemoRecords.SoonAfter(record));
        using var drawn = DrawnPaper.Of(paper, record);
        Assert.Contains(LabelLayout.More, drawn.Text(), StringComparison.Ordinal);
        Assert.Contains("clear to work since", drawn.Text(), StringComparison.Ordinal);
        var text = string.Join(' ', drawn.PageTexts()[0].Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        var rows = paper.Sections.SelectMany(section => section.Rows).Select(row => row.Label is null ? row.Text : $"{row.Label}: {row.Text}").ToList();
        Assert.All(rows, row => Assert.Equal(text.Contains(row[..Math.Min(20, row.Length)], StringComparison.Ordinal), text.Contains(row, StringComparison.Ordinal)));
        Assert.Contains(rows, row => !text.Contains(row, StringComparison.Ordinal));
        using var small = DrawnPaper.Of(LabelPaper.Of(DemoRecords.Of(DemoRecords.HandedOver()), paper.Made), record);
        Assert.DoesNotContain(LabelLayout.More, small.Text(), StringComparison.Ordinal);
    }

    [Fact]
    public void Long_words_and_long_rows_stay_within_the_page_and_nothing_is_lost()
    {
        var record = DemoRecords.Of(new JobBench { Sheet = Wordy() }.Open().Until(NeedKind.Working));
        var paper = HandOverPaper.Of(record, DemoRecords.SoonAfter(record));
        var monster = string.Join(' ', Enumerable.Range(0, 900).Select(number => $"word{number}"));
        paper = paper with { Job = new string('j', 64), Sections = paper.Sections.Add(new PaperSection("More", [new PaperRow(new string('w', 90), new string('x', 300)), new PaperRow("long", monster)], PaperEmphasis.Warning)) };
        using var drawn = DrawnPaper.Of(paper, record, "wordy");
        Assert.All(drawn.Edges(), page => Assert.True(
            page is { Left: >= 40, Top: >= 36 } && page.Right <= page.Width - 40 && page.Bottom <= page.Height - 40, page.ToString()));
        var text = drawn.Text();
        Assert.Equal(300, text.Count(letter => letter == 'x') - PaperPrint.Of(paper with { Sections = paper.Sections.RemoveAt(paper.Sections.Length - 1) }).Count(letter => letter == 'x'));
        Assert.All(monster.Split(' '), word => Assert.Contains(word, text, StringComparison.Ordinal));
    }

    [Fact]
    public void The_same_paper_with_the_same_code_gives_the_same_bytes()
    {
        var record = DemoRecords.Of(DemoRecords.HandedOver());
        var code = DrawnPaper.CodeOf(record);
        Assert.All(AllPapers.Of(record), paper => Assert.Equal(PaperPdf.Draw(paper, code), PaperPdf.Draw(paper, code)));
    }

    [Fact]
    public void A_paper_that_nobody_could_sign_says_so()
    {
        var record = DemoRecords.Of(DemoRecords.HandedOver());
        using var sheet = new DrawnPaper(PaperPdf.Draw(HandOverPaper.Of(record, DemoRecords.SoonAfter(record)), null));
        using var label = new DrawnPaper(PaperPdf.Draw(LabelPaper.Of(record, DemoRecords.SoonAfter(record)), null));
        Assert.Contains("This paper has no code: nobody could sign it.", sheet.Text(), StringComparison.Ordinal);
        Assert.Contains("No code: nobody could sign this label.", label.Text(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_letter_that_the_font_lacks_loses_its_accent_or_is_seen_as_missing()
    {
        var record = DemoRecords.Of(DemoRecords.HandedOver());
        var paper = HandOverPaper.Of(record, DemoRecords.SoonAfter(record));
        paper = paper with { Sections = paper.Sections.Add(new PaperSection("Letters", [PaperRow.Of("Ærøskøbing Łódź Čeština Größe ño Eğirdir Brașov Cafe\u0301 Αθήνα Москва 漢字.")])) };
        using var drawn = DrawnPaper.Of(paper, record, "letters");
        Assert.Contains("Ærøskøbing Lódz Ceština Größe ño Egirdir Brasov Cafe Αθηνα ?????? ??.", drawn.Text(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Лесная улица 4", true)]
    [InlineData("第七駐車場", true)]
    [InlineData("ulica Łąkowa 4", false)]
    public void A_paper_with_a_question_mark_for_a_letter_says_what_it_means(string place, bool isSaid)
    {
        var record = DemoRecords.Of(DemoRecords.HandedOver());
        foreach (var paper in AllPapers.Of(record))
        {
            using var drawn = DrawnPaper.Of(paper with { Sections = paper.Sections.Insert(0, new PaperSection("Place", [PaperRow.Of(place)])) }, record);
            Assert.Equal(isSaid, drawn.Text().Contains(PaperPdf.LettersMissing, StringComparison.Ordinal));
        }
    }

    [Fact]
    public void A_damaged_record_is_drawn_with_its_trouble_first()
    {
        var whole = DemoRecords.Of(DemoRecords.Cleared());
        var record = RecordedJob.Of("job-1", whole.Entries.RemoveAt(60).Select(entry => entry.Entry));
        using var drawn = DrawnPaper.Of(HandOverPaper.Of(record, DemoRecords.SoonAfter(record)), record, "damaged");
        var text = drawn.Text();
        Assert.InRange(text.IndexOf("Entries 61 to 61 are missing.", StringComparison.Ordinal), 1, text.IndexOf("Stays live", StringComparison.Ordinal));
    }

    /// <summary>A sheet with long names and many points.</summary>
    private static Sheet Wordy()
    {
        var van = DemoSheets.Van();
        return van with
        {
            Id = "wordy",
            StaysLive = "both packs, the pack side of both plugs, the contactor boxes behind the second row of seats, and Hochvoltbatterieversorgungsleitungsabdeckungen of every kind",
            Moving = "on its own wheels, no faster than walking pace, for no more than fifty metres, with the selector held in neutral by the maker's tool and somebody at the steering wheel",
            Points = [.. van.Points.Select(point => point with { Name = $"{point.Name} behind the cover that is held by seven screws of the second kind" })],
            TestPlaces = [.. van.TestPlaces.Select(place => place with { Name = $"{place.Name} below the cover at the left side of the second row of seats" })],
        };
    }
}
