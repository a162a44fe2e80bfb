using Companion.Papers.Drawing;
using Companion.Papers.Words;
using Companion.Review;
using Companion.Tablet.Web;

namespace Companion.Tablet.Cli;

/// <summary>
/// papers --store DIR --job ID [--out DIR] [--names]: hand-over sheet, job report and label of a job as PDF files. It reads the witness only and
/// leaves names and place out unless asked.
/// </summary>
public static class PapersVerb
{
    private const int MostJobsNamed = 10;

    /// <summary>Writes the papers; 0 when the record is whole, 1 when it has trouble, which the papers then tell.</summary>
    public static int Run(Options options) => Run(options, Console.Out, TimeProvider.System);

    /// <summary>The same, with its output and its clock.</summary>
    public static int Run(Options options, TextWriter output, TimeProvider clock)
    {
        options.Only("store", "job", "out", "names");
        var (store, job) = (options["store"] ?? Places.Store, options.Required("job"));
        var record = RecordForPapers.Open(store, job, options["names"] is not null) ?? throw NoSuchJob(store, job);
        var code = StorePaperSigner.CodeOf(store, record);
        var folder = Directory.CreateDirectory(options["out"] ?? $"papers-{job}").FullName;
        var made = clock.GetLocalNow();
        Paper[] papers = [HandOverPaper.Of(record, made), JobReportPaper.Of(record, made), LabelPaper.Of(record, made)];
        foreach (var paper in papers)
        {
            var file = Path.Combine(folder, NameOf(paper.Kind));
            File.WriteAllBytes(file, PaperPdf.Draw(paper, code));
            output.WriteLine(file);
        }

        foreach (var line in Remarks(record, papers[0], code is null))
        {
            output.WriteLine(line);
        }

        return record.Troubles.Any(trouble => trouble.Kind != TroubleKind.ClockStep) ? 1 : 0;
    }

    private static IEnumerable<string> Remarks(RecordedJob record, Paper paper, bool unsigned)
    {
        if (paper.Rehearsal)
        {
            yield return Paper.RehearsalWords;
        }

        if (paper.StillOpen)
        {
            yield return $"{Paper.StillOpenWords}: the papers tell how it stood at entry {paper.LastSequence}. Make them again when it has ended.";
        }

        if (unsigned)
        {
            yield return "No code: the store's key is missing or cannot be read, so nobody can check these papers against the record.";
        }

        foreach (var trouble in record.Troubles)
        {
            yield return $"Trouble with the record: {trouble.Words}";
        }

        if (!record.Troubles.IsEmpty)
        {
            yield return "The papers say so. Run ./companion verify on the store before anything on them is relied on.";
        }
    }

    private static UsageException NoSuchJob(string store, string job)
    {
        var jobs = RecordForPapers.Jobs(store);
        return new UsageException(jobs.Count == 0
            ? $"The store holds no job '{job}', and no other. If it should, run ./companion verify on it."
            : $"The store holds no job '{job}'. Its latest: {string.Join(", ", jobs.TakeLast(MostJobsNamed).Reverse())}.");
    }

    private static string NameOf(PaperKind kind) => kind switch
    {
        PaperKind.HandOver => "hand-over.pdf",
        PaperKind.JobReport => "report.pdf",
        _ => "label.pdf",
    };
}
