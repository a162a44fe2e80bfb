using Companion.Domain.Sheets;
using Companion.Engine.Ports;
using Companion.Sheets;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Companion.Tablet.Web;

/// <summary>The documents of the sheets on offer: asked for by the sheet's number alone, so that no address can name a file.</summary>
internal static class SheetDocuments
{
    private const string Type = "application/pdf";

    /// <summary>
    /// Where a page's frame finds a sheet's document, from the root: the leaves alone, as wide as they go. No key of a viewer saves, prints or
    /// opens anything.
    /// </summary>
    public static string FrameOf(int number) => $"sheet/{number}/document#toolbar=0&navpanes=0&view=FitH";

    /// <summary>True when the sheet has a document that can be shown.</summary>
    public static bool CanShow(Sheet sheet, string? folder) =>
        folder is not null && sheet.Source.Attachment is { } name && SheetAttachment.Fault(folder, name) is null;

    /// <summary>Maps the one address.</summary>
    public static void Map(IEndpointRouteBuilder routes, ISheetCatalogue sheets, string? folder) =>
        routes.MapGet("/sheet/{number:int}/document", (int number, HttpContext context) => Answer(sheets.Find(number)?.Sheet, folder, context));

    private static IResult Answer(Sheet? sheet, string? folder, HttpContext context)
    {
        if (sheet is null || !CanShow(sheet, folder))
        {
            return Results.NotFound();
        }

        PageHeaders.AllowFrame(context);
        return Results.Stream(File.OpenRead(Path.Combine(folder!, sheet.Source.Attachment!)), Type, enableRangeProcessing: true);
    }
}
