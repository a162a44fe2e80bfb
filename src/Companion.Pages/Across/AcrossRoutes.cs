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
    /// <summary>Maps "across", "across.csv" and "across.ndjson" below the group.</summary>
    public static void MapAcross(this RouteGroupBuilder group, JobLibrary library)
    {
        group.MapGet("/across", (HttpRequest request) => Page(library, request));
        group.MapGet("/across.csv", (HttpRequest request) => Download(AcrossExport.Csv(Jobs(library, request)), "text/csv; charset=utf-8; header=present", "jobs.csv"));
        group.MapGet("/across.ndjson", (HttpRequest request) => Download(AcrossExport.Ndjson(Jobs(library, request)), "application/x-ndjson", "jobs.ndjson"));
    }

    /// <summary>The filter of a query; what cannot be read as a day is none.</summary>
    public static JobFilter FilterOf(IQueryCollection query) => new(
        DayOf(query["from"]), DayOf(query["to"]), query["sheet"].ToString(), query["technician"].ToString().Trim(), query["kind"] == "rehearsal");

    private static RazorComponentResult<AcrossPage> Page(JobLibrary library, HttpRequest request)
    {
        var filter = FilterOf(request.Query);
        var words = request.Query["words"].ToString().Trim();
        words = words[..Math.Min(words.Length, AcrossModel.LongestWords)];
        var view = library.Look();
        var jobs = filter.Of(view.Jobs);
        var sheets = view.Jobs.Select(job => job.Sheet).Where(sheet => sheet.Length > 0).Distinct().Order(StringComparer.Ordinal);
        var model = new AcrossModel(filter, words, view.Left, [.. sheets], jobs, AcrossFigures.Of(jobs), library.Search(words, filter));
        return new RazorComponentResult<AcrossPage>(new Dictionary<string, object?> { ["Model"] = model }) { PreventStreamingRendering = true };
    }

    private static IEnumerable<JobFacts> Jobs(JobLibrary library, HttpRequest request) => FilterOf(request.Query).Of(library.Look().Jobs);

    private static IResult Download(string text, string type, string name) => Results.File(Encoding.UTF8.GetBytes(text), type, name);

    private static DateOnly? DayOf(string? text) =>
        DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) ? day : null;
}
