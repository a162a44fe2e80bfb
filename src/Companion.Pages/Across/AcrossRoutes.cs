using System.Globalization;
using System.Text;
using Companion.Review.Across;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;

namespace Companion.Pages.Across;

/// <summary>The page over many jobs and its downloads. Who may open them is for the group to say.</summary>
public static class AcrossRoutes
{
    /// <summary>Maps "across", "across.csv" and "across.ndjson" below the group, and "across/read", which tells how far the reading is.</summary>
    /// <param name="group">The group.</param>
    /// <param name="library">The facts.</param>
    /// <param name="looked">Told before anything of a job is shown, so that who looked can be written down first. Any thread.</param>
    public static void MapAcross(this RouteGroupBuilder group, JobLibrary library, Func<HttpContext, Task> looked)
    {
        group.MapGet("/across/read", () =>
        {
            var (read, all, unreadable) = library.Progress;
            return Results.Json(new { read, all, unreadable });
        });
        group.MapGet("/across", (Delegate)(async (HttpContext context) =>
        {
            await looked(context).ConfigureAwait(false);
            return await PageAsync(library, context).ConfigureAwait(false);
        }));
        group.MapGet("/across.csv", (Delegate)(async (HttpContext context) =>
        {
            await looked(context).ConfigureAwait(false);
            return await DownloadAsync(library, context, AcrossExport.Csv, "text/csv; charset=utf-8; header=present", "jobs.csv").ConfigureAwait(false);
        }));
        group.MapGet("/across.ndjson", (Delegate)(async (HttpContext context) =>
        {
            await looked(context).ConfigureAwait(false);
            return await DownloadAsync(library, context, AcrossExport.Ndjson, "application/x-ndjson", "jobs.ndjson").ConfigureAwait(false);
        }));
    }

    /// <summary>The filter of a query; what cannot be read as a day is none.</summary>
    public static JobFilter FilterOf(IQueryCollection query) => new(
        DayOf(query["from"]), DayOf(query["to"]), query["sheet"].ToString(), query["technician"].ToString().Trim(), query["kind"] == "rehearsal");

    private static async Task<RazorComponentResult<AcrossPage>> PageAsync(JobLibrary library, HttpContext context)
    {
        var filter = FilterOf(context.Request.Query);
        var words = context.Request.Query["words"].ToString().Trim();
        words = words[..Math.Min(words.Length, AcrossModel.LongestWords)];
        var view = await library.LookAsync(JobLibrary.Patience, context.RequestAborted).ConfigureAwait(false);
        var jobs = filter.Of(view.Jobs);
        var sheets = view.Jobs.Select(job => job.Sheet).Where(sheet => sheet.Length > 0).Distinct().Order(StringComparer.Ordinal);
        var model = new AcrossModel(filter, words, view, [.. sheets], jobs, AcrossFigures.Of(jobs), library.Search(words, filter));
        return new RazorComponentResult<AcrossPage>(new Dictionary<string, object?> { ["Model"] = model }) { PreventStreamingRendering = true };
    }

    /// <summary>A download waits until every record is read, and is refused while one cannot be: nobody would see that some are missing from a file.</summary>
    private static async Task<IResult> DownloadAsync(
        JobLibrary library, HttpContext context, Func<IEnumerable<JobFacts>, string> written, string type, string file)
    {
        var view = await library.LookAsync(Timeout.InfiniteTimeSpan, context.RequestAborted).ConfigureAwait(false);
        return view.Unreadable.IsEmpty
            ? Results.File(Encoding.UTF8.GetBytes(written(FilterOf(context.Request.Query).Of(view.Jobs))), type, file)
            : Results.Text(UnreadableWords.OfDownload(view.Unreadable), statusCode: StatusCodes.Status503ServiceUnavailable);
    }

    private static DateOnly? DayOf(string? text) =>
        DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) ? day : null;
}
