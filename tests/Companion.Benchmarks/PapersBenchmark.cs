using System.Diagnostics;
using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using Companion.Benchmarks.Review;
using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Papers.Coding;
using Companion.Papers.Drawing;
using Companion.Papers.Words;
using Companion.Review;
using Companion.TestKit;
using SkiaSharp;

namespace Companion.Benchmarks;

/// <summary>
/// What the three papers of a job cost: their words from the record, their code, their PDF. The peer, in the same run, writes the same text with
/// the same library and no layout: nothing measured, nothing wrapped, no code; it bounds what any layout could reach. Milliseconds and bytes.
/// </summary>
internal static partial class PapersBenchmark
{
    private const int Times = 15;
    private const int PeerLines = 60;

    /// <summary>The figures of an everyday job, and of one of so many entries.</summary>
    public static async Task<object> MeasureAsync(params int[] lengths)
    {
        using var signer = new Signer();
        var everyday = await (await new EngineBench().OpenAsync().ConfigureAwait(false)).UntilAsync(NeedKind.Working).ConfigureAwait(false);
        var jobs = new List<(string Name, IReadOnlyList<JournalEntry> Entries)> { ("everyday", everyday.Journal.Read("job-1")) };
        var all = await ReplayBenchmark.EntriesAsync(lengths.Max()).ConfigureAwait(false);
        jobs.AddRange(lengths.Select(length => ("impatient", (IReadOnlyList<JournalEntry>)[.. all.Take(length)])));

        // Once unmeasured: code is compiled, fonts are read.
        Measure(jobs[0].Name, jobs[0].Entries, signer);
        return jobs.Select(job => Measure(job.Name, job.Entries, signer)).ToList();
    }

    private static object Measure(string job, IReadOnlyList<JournalEntry> entries, Signer signer)
    {
        var record = RecordedJob.Of("job-1", entries);
        var made = entries[^1].Time.AddMinutes(1);
        PaperCode? code = null;
        var coding = Median(() => code = PaperCode.Of(PaperStatement.Of(record, signer.Tablet)!, signer));
        Func<Paper>[] papers = [() => HandOverPaper.Of(record, made), () => JobReportPaper.Of(record, made), () => LabelPaper.Of(record, made)];
        return new
        {
            job,
            entries = entries.Count,
            codems = coding,
            codebytes = Encoding.UTF8.GetByteCount(code!.Text),
            papers = papers.Select(paper => Measure(paper, code)).ToList(),
        };
    }

    private static object Measure(Func<Paper> words, PaperCode code)
    {
        var paper = words();
        byte[] pdf = [];
        byte[] plain = [];
        var word = Median(() => words());
        var draw = Median(() => pdf = PaperPdf.Draw(paper, code));
        var peer = Median(() => plain = Plain(paper));
        return new
        {
            paper = paper.Kind.ToString(),
            wordsms = word,
            drawms = draw,
            bytes = pdf.Length,
            pages = PageMark().Count(Encoding.Latin1.GetString(pdf)),
            peerms = peer,
            peerbytes = plain.Length,
            peerratio = Math.Round(draw / Math.Max(peer, 0.01), 2),
        };
    }

    /// <summary>Every text of the paper as one line, however long, sixty on a page.</summary>
    private static byte[] Plain(Paper paper)
    {
        var lines = paper.Sections.SelectMany(section => section.Rows.Select(row => $"{row.Label} {row.Text}").Prepend(section.Heading)).Prepend(paper.Standing).Concat(paper.Cautions);
        using var bytes = new MemoryStream();
        using var face = SKTypeface.FromStream(typeof(PaperPdf).Assembly.GetManifestResourceStream("font/B612-Regular.otf"));
        using var font = new SKFont(face, 9.5f);
        using var paint = new SKPaint { Color = SKColors.Black };
        using (var document = SKDocument.CreatePdf(bytes))
        {
            foreach (var page in lines.Chunk(PeerLines))
            {
                using var canvas = document.BeginPage(595, 842);
                for (var line = 0; line < page.Length; line++)
                {
                    canvas.DrawText(page[line], 40, 40 + (line * 12.5f), SKTextAlign.Left, font, paint);
                }

                document.EndPage();
            }

            document.Close();
        }

        return bytes.ToArray();
    }

    private static double Median(Action act)
    {
        var times = Enumerable.Range(0, Times).Select(_ =>
        {
            var before = Stopwatch.GetTimestamp();
            act();
            return Stopwatch.GetElapsedTime(before).TotalMilliseconds;
        }).Order().ToList();
        return Math.Round(times[Times / 2], 2);
    }

    [GeneratedRegex(@"/Type /Page\b")]
    private static partial Regex PageMark();

    /// <summary>A tablet's key for one run.</summary>
    private sealed class Signer : IPaperSigner, IDisposable
    {
        private readonly ECDsa _key = ECDsa.Create(ECCurve.NamedCurves.nistP256);

        public Guid Tablet { get; } = new("6f1c0a52-7d0e-4d3f-9a56-0b54c0ffee01");

        public string KeyId { get; } = new('0', 16);

        public byte[] Sign(ReadOnlySpan<byte> statement) => _key.SignData(statement, HashAlgorithmName.SHA256);

        public void Dispose() => _key.Dispose();
    }
}
