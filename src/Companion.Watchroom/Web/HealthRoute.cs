namespace Companion.Watchroom.Web;

/// <summary>
/// A small address for a check from another machine, open to anybody: whether deadlines are being looked at now, and nothing else. A watch room that is gone
/// cannot tell it, so that somebody else has to ask.
/// </summary>
internal static class HealthRoute
{
    /// <summary>Where it is.</summary>
    public const string Address = "/health";

    /// <summary>Maps it: 200 while deadlines are looked at, else 503.</summary>
    public static void Map(IEndpointRouteBuilder routes, WatchroomServices services) => routes
        .MapGet(Address, () => services.IsWatching() ? Results.Text("watching\n") : Results.Text("not watching\n", statusCode: StatusCodes.Status503ServiceUnavailable))
        .RequireRateLimiting(Limits.Health);
}
