using System.Security.Claims;
using Companion.Pages.Record;
using Companion.Watchroom.Access;
using Companion.Watchroom.Retention;
using Companion.Watchroom.Web.Pages;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;

namespace Companion.Watchroom.Web;

/// <summary>The pages that people open, and what they send from them.</summary>
internal static class PageRoutes
{
    /// <summary>May look at the board.</summary>
    public const string Looks = "looks";

    /// <summary>May take alerts.</summary>
    public const string Takes = "takes";

    /// <summary>May pair and revoke.</summary>
    public const string Administers = "administers";

    /// <summary>Maps them.</summary>
    public static void Map(IEndpointRouteBuilder routes, WebApplication app)
    {
        var services = app.Services.GetRequiredService<WatchroomServices>();
        var feed = app.Services.GetRequiredService<BoardFeed>();
        MapBoard(routes, services, feed);
        MapSignIn(routes, services);
        MapActs(routes, services);
        MapDevices(routes, services);
        RecordPages.Map(routes, services);
        Reviewing.CommentRoutes.Map(routes, services.Comments, services.Audit);
        ProofRoutes.Map(routes, services);
        Checking.CheckRoutes.Map(routes, services);
        PersonalRoutes.Map(routes, services, app.Services.GetRequiredService<RoomRetention>());
    }

    private static void MapBoard(IEndpointRouteBuilder routes, WatchroomServices services, BoardFeed feed)
    {
        // Read first: a change meanwhile makes the version old, and the page fetches again.
        routes.MapGet("/", (ClaimsPrincipal user) => Page<BoardPage>(BoardModel.Of(feed.Version, services, RoleOf(user)), user)).RequireAuthorization(Looks);
        routes.MapGet("/board", (ClaimsPrincipal user) => Page<Board>(BoardModel.Of(feed.Version, services, RoleOf(user)), user)).RequireAuthorization(Looks);
        routes.MapGet("/feed", (HttpContext context) =>
        {
            var last = context.Request.Headers["Last-Event-ID"].ToString();
            var cookie = context.Request.Cookies[SessionHandler.Cookie];
            return TypedResults.ServerSentEvents(feed.ListenAsync(last, () => services.Sessions.Find(cookie) is not null, context.RequestAborted));
        }).RequireAuthorization(Looks);
    }

    private static void MapSignIn(IEndpointRouteBuilder routes, WatchroomServices services)
    {
        routes.MapGet("/login", () => SignInPage(string.Empty, StatusCodes.Status200OK));
        routes.MapPost("/login", async (HttpContext context, [FromForm] string name, [FromForm] string password) =>
        {
            if (services.People.SignIn(name.Trim(), password) is not { } person)
            {
                services.Audit.Refused("people", "signin", StatusCodes.Status401Unauthorized, "The name and password do not fit, or the person is locked out.");
                return SignInPage(
                    $"Name and password do not fit. After {People.MostFailures} wrong passwords a name is locked for {People.LockOut.Minutes} minutes.",
                    StatusCodes.Status401Unauthorized);
            }

            var cookie = services.Sessions.Begin(person);
            await services.Audit.ActSoonAsync("session.begun", new { role = person.Role.ToString().ToLowerInvariant() }, ("person", person.Name)).ConfigureAwait(false);
            context.Response.Cookies.Append(SessionHandler.Cookie, cookie, SessionHandler.CookieOptions);
            return Results.Redirect("/");
        }).RequireRateLimiting(Limits.SignIn);
        routes.MapPost("/logout", async (HttpContext context, IFormCollection form) =>
        {
            services.Sessions.End(context.Request.Cookies[SessionHandler.Cookie]!);
            await services.Audit.ActSoonAsync("session.ended", new { }, ("person", context.User.Identity!.Name!)).ConfigureAwait(false);
            context.Response.Cookies.Delete(SessionHandler.Cookie, SessionHandler.CookieOptions);
            return Results.Redirect("/login");
        }).RequireAuthorization(Looks);
    }

    private static void MapActs(IEndpointRouteBuilder routes, WatchroomServices services)
    {
        routes.MapPost("/alerts/take", async (HttpContext context, [FromForm] string alert, [FromForm] string? note) =>
            Done(context, await services.Keeper.TakeAsync(alert, context.User.Identity!.Name!, note ?? string.Empty).ConfigureAwait(false), "There is no such alert any more."))
            .RequireAuthorization(Takes);
        routes.MapPost("/troubles/note", async (HttpContext context, IFormCollection form) =>
        {
            var noted = services.Troubles.Note([.. form["trouble"].OfType<string>()], context.User.Identity!.Name!);
            await services.Audit.ActSoonAsync("trouble.noted", new { count = noted.Count }, ("person", context.User.Identity!.Name!), ("what", string.Join(Environment.NewLine, noted)))
                .ConfigureAwait(false);
            return Done(context, true, string.Empty);
        }).RequireAuthorization(Takes);
        routes.MapPost("/watches/end", async (HttpContext context, [FromForm] string device, [FromForm] string job, [FromForm] string reason) =>
            Done(context, await services.Keeper.EndWatchAsync(device, job, context.User.Identity!.Name!, reason).ConfigureAwait(false), "There is no such watch any more."))
            .RequireAuthorization(Takes);
    }

    private static void MapDevices(IEndpointRouteBuilder routes, WatchroomServices services)
    {
        routes.MapGet("/devices", (ClaimsPrincipal user) => Page<DevicesPage>(new DevicesModel(services.Devices.All(), null), user)).RequireAuthorization(Administers);
        routes.MapPost("/devices/code", async (ClaimsPrincipal user, IFormCollection form) =>
        {
            var code = services.Codes.New();
            await services.Audit.ActAsync("paircode.made", new { }, ("person", user.Identity!.Name!)).ConfigureAwait(false);
            return Page<DevicesPage>(new DevicesModel(services.Devices.All(), code), user);
        }).RequireAuthorization(Administers);
        routes.MapPost("/devices/revoke", async (HttpContext context, [FromForm] string device) =>
        {
            var revoked = services.Devices.Revoke(device);
            await services.Audit.ActSoonAsync("device.revoked", new { device, revoked }, ("person", context.User.Identity!.Name!)).ConfigureAwait(false);
            return Results.Redirect("/devices");
        }).RequireAuthorization(Administers);
    }

    /// <summary>A page for whoever is signed in.</summary>
    internal static RazorComponentResult<T> Page<T>(object model, ClaimsPrincipal user)
        where T : Microsoft.AspNetCore.Components.IComponent =>
        new(new Dictionary<string, object?> { ["Model"] = model, ["Viewer"] = new Viewer(user.Identity!.Name!, RoleOf(user)) }) { PreventStreamingRendering = true };

    private static IResult SignInPage(string problem, int status) =>
        new RazorComponentResult<SignInPage>(new Dictionary<string, object?> { ["Problem"] = problem }) { StatusCode = status, PreventStreamingRendering = true };

    /// <summary>The page's script asks for no page, so that its sound goes on; without script the board is loaded again.</summary>
    private static IResult Done(HttpContext context, bool done, string problem)
    {
        if (!done)
        {
            return Results.Text(problem, statusCode: StatusCodes.Status404NotFound);
        }

        return context.Request.Headers.Accept.ToString().Contains("text/html", StringComparison.Ordinal) ? Results.Redirect("/") : Results.NoContent();
    }

    /// <summary>The role of who is signed in.</summary>
    public static Role RoleOf(ClaimsPrincipal user) => Enum.Parse<Role>(user.FindFirstValue(ClaimTypes.Role)!);
}
