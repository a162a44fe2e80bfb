using System.Globalization;
using System.Text;
using System.Text.Json;

namespace Companion.Review.Across;

/// <summary>Facts of jobs for other programs: CSV by RFC 4180, or one JSON object a line. Nothing personal but crew numbers. Pure.</summary>
public static class AcrossExport
{
    private const string Line = "\r\n";

    /// <summary>
    /// CSV with a header, CRLF and quotes where they are needed. A cell that a spreadsheet would take for a formula (it begins with = + - @, a tab
    /// or a return: OWASP, CSV injection) gets an apostrophe in front.
    /// </summary>
    public static string Csv(IEnumerable<JobFacts> jobs)
    {
        var text = new StringBuilder("device,job,kind,opened,seconds,technician,sheet,refusals,unheard,corrected,remarks").Append(Line);
        foreach (var job in jobs)
        {
            text.AppendJoin(',', Cells(job).Select(Cell)).Append(Line);
        }

        return text.ToString();
    }

    /// <summary>One JSON object a line, with the time of every step.</summary>
    public static string Ndjson(IEnumerable<JobFacts> jobs) => string.Concat(jobs.Select(job => JsonSerializer.Serialize(new
    {
        device = job.Name.Device,
        job = job.Name.Chain,
        rehearsal = job.Rehearsal,
        opened = job.Opened.ToString("O", CultureInfo.InvariantCulture),
        seconds = job.Seconds,
        technician = job.Technician,
        sheet = job.Sheet,
        steps = job.Steps.Select(step => new { step = step.Step, milliseconds = step.Milliseconds }),
        voice = job.Voice.Select(count => new { step = count.Step, unheard = count.Unheard, refused = count.Refused, corrected = count.Corrected }),
        remarks = job.Remarks.Select(count => new { kind = count.Kind.ToString().ToLowerInvariant(), count = count.Count }),
    }) + "\n"));

    /// <summary>One cell, defused and quoted.</summary>
    public static string Cell(string text)
    {
        var defused = text is ['=' or '+' or '-' or '@' or '\t' or '\r', ..] ? "'" + text : text;
        return defused.AsSpan().ContainsAny("\",\r\n") ? $"\"{defused.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : defused;
    }

    private static IEnumerable<string> Cells(JobFacts job) =>
    [
        job.Name.Device,
        job.Name.Chain,
        job.Rehearsal ? "rehearsal" : "real",
        job.Opened.ToString("O", CultureInfo.InvariantCulture),
        Number(job.Seconds),
        job.Technician,
        job.Sheet,
        Number(job.Refusals),
        Number(job.Voice.Sum(count => count.Unheard)),
        Number(job.Voice.Sum(count => count.Corrected)),
        Number(job.Remarks.Sum(count => count.Count)),
    ];

    private static string Number(long number) => number.ToString(CultureInfo.InvariantCulture);
}
