using Companion.Pages.Papers;
using Companion.Pages.Replay;
using Companion.Review;
using Companion.Review.Lines;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Routing;

namespace Companion.Pages.Record;

/// <summary>The list of records, a record's page, and the part of its timeline that the script asks for. The head says who may look.</summary>
public static class RecordRoutes
{
    /// <summary>Maps them into a group whose prefix is the head's root.</summary>
    /// <param name="group">The group.</param>
    /// <param name="source">The records.</param>
    /// <param name="head">How the head shows them.</param>
    /// <param name="hasDevices">True when an address names the device before the chain.</param>
    public static void MapRecords(this RouteGroupBuilder group, IRecordSource source, RecordHead head, bool hasDevices)
    {
        var shelf = new RecordShelf(source, TimeProvider.System);
        var place = hasDevices ? "/{device}/{chain}" : "/{chain}";
        group.AddEndpointFilter(async (context, next) => head.MayLook() ? await next(context).ConfigureAwait(false) : Results.Redirect("/"));
        group.MapGet("/", () => Page<RecordsPage>(("Head", head), ("Names", source.Names())));
        group.MapGet(place, async (HttpContext context, long? from, long? to, long? at) =>
        {
            await head.Looked(context, NameOf(context), "record").ConfigureAwait(false);
            return Show<RecordPage>(shelf, head, context, from, to, at);
        });
        group.MapGroup(place).MapPapers(source, head);
        var parts = group.MapGroup(place);
        parts.AddEndpointFilter(async (context, next) =>
        {
            await head.Peeked(context.HttpContext, NameOf(context.HttpContext)).ConfigureAwait(false);
            return await next(context).ConfigureAwait(false);
        });
        parts.MapReplay(shelf, head.Speak, head.Sound, head.Listened);
        parts.MapGet("/line", (HttpContext context, long? from, long? to, long? at) => Show<TimelineView>(shelf, head, context, from, to, at));
    }

    private static IResult Show<T>(RecordShelf shelf, RecordHead head, HttpContext context, long? from, long? to, long? at)
        where T : Microsoft.AspNetCore.Components.IComponent
    {
        var name = NameOf(context);
        if (shelf.Find(name) is not { } open)
        {
            return NoSuchRecord();
        }

        var model = LineModel.Of(open.Line, head.AddressOf(name), from, to, at);
        return typeof(T) == typeof(TimelineView)
            ? Page<T>(("Model", model))
            : Page<T>(("Model", model), ("Head", head), ("Sight", new RecordSight(name, open.Job, model.Address)));
    }

    /// <summary>The answer where there is no such record.</summary>
    internal static IResult NoSuchRecord() => Results.Text("There is no such record. Go back to the list.", statusCode: StatusCodes.Status404NotFound);

    /// <summary>The record that an address names.</summary>
    internal static RecordName NameOf(HttpContext context) =>
        new(context.Request.RouteValues["device"] as string ?? string.Empty, (string)context.Request.RouteValues["chain"]!);

    private static RazorComponentResult<T> Page<T>(params (string Name, object? Value)[] parameters)
        where T : Microsoft.AspNetCore.Components.IComponent =>
        new(parameters.ToDictionary(each => each.Name, each => each.Value)) { PreventStreamingRendering = true };
}
