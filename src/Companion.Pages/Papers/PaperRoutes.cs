using Companion.Pages.Record;
using Companion.Papers.Drawing;
using Companion.Papers.Words;
using Companion.Review;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;

namespace Companion.Pages.Papers;

/// <summary>The papers of a record, below its address. Who may look is for the group to say; who looked is told to the head first.</summary>
public static class PaperRoutes
{
    /// <summary>Maps them.</summary>
    /// <param name="group">A group whose prefix names the record by <c>chain</c> and, where there are several tablets, <c>device</c>.</param>
    /// <param name="source">The records.</param>
    /// <param name="head">How the head shows them.</param>
    public static void MapPapers(this RouteGroupBuilder group, IRecordSource source, RecordHead head)
    {
        foreach (var kind in PaperPlace.All)
        {
            group.MapGet(PaperPlace.AddressOf(string.Empty, kind), (Delegate)((HttpContext context) => MakeAsync(kind, source, head, context, Page)));
            group.MapGet(PaperPlace.PdfOf(string.Empty, kind), (Delegate)((HttpContext context) => MakeAsync(kind, source, head, context, Pdf)));
        }
    }

    private static async Task<IResult> MakeAsync(PaperKind kind, IRecordSource source, RecordHead head, HttpContext context, Func<PaperModel, IResult> answer)
    {
        var name = RecordRoutes.NameOf(context);
        await head.Looked(context, name, PaperPlace.NameOf(kind)).ConfigureAwait(false);
        return source.Open(name) is { } record
            ? answer(new PaperModel(PaperPlace.Draw(kind, record, head.Time.GetLocalNow()), head.Code(name, record), head.AddressOf(name)))
            : RecordRoutes.NoSuchRecord();
    }

    private static RazorComponentResult<PaperPage> Page(PaperModel model) =>
        new(new Dictionary<string, object?> { [nameof(PaperPage.Model)] = model }) { PreventStreamingRendering = true };

    private static IResult Pdf(PaperModel model) =>
        Results.File(PaperPdf.Draw(model.Paper, model.Code), "application/pdf", $"{model.Paper.Job}-{PaperPlace.NameOf(model.Paper.Kind)}.pdf");
}
