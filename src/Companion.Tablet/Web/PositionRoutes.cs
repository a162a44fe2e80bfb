using Companion.Tablet.Linking;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.Routing;

namespace Companion.Tablet.Web;

/// <summary>Where the page's script tells where the tablet is. Not there at all unless the operator turned it on.</summary>
internal static class PositionRoutes
{
    /// <summary>The one address.</summary>
    public const string Path = "/position";

    private const long MostBytes = 1024;

    public static void Map(IEndpointRouteBuilder routes, TabletPosition position)
    {
        routes.MapPost(Path, (PositionReport report) => position.Take(report.Latitude, report.Longitude, report.Accuracy, report.Age)
            ? Results.NoContent()
            : Results.BadRequest()).WithMetadata(new SizeLimit());
        routes.MapDelete(Path, () =>
        {
            position.Forget();
            return Results.NoContent();
        });
    }

    private sealed class SizeLimit : IRequestSizeLimitMetadata
    {
        public long? MaxRequestBodySize => MostBytes;
    }
}
