using Microsoft.AspNetCore.Http;

namespace Companion.Tablet.Web;

/// <summary>
/// Lets in only the tablet's own browser and watchdog: the request must name this host, come from this page if it names an origin, and
/// carry the token of this start. Everything else is 403, whatever it asks for.
/// </summary>
internal sealed class GateKeeper(RequestDelegate next, TabletWebOptions options)
{
    /// <summary>The cookie that carries the token after the first load.</summary>
    public const string Cookie = "companion";

    /// <summary>The query member of the first load.</summary>
    public const string Query = "token";

    /// <summary>The header that the watchdog sends.</summary>
    public const string Header = "X-Companion-Token";

    public Task InvokeAsync(HttpContext context)
    {
        var request = context.Request;
        if (!IsOwnHost(context) || !IsOwnOrigin(context))
        {
            return Refuse(context);
        }

        if (AccessToken.Matches(options.Token, request.Query[Query]))
        {
            return Admit(context);
        }

        var known = AccessToken.Matches(options.Token, request.Cookies[Cookie]) || AccessToken.Matches(options.Token, request.Headers[Header]);
        return known ? next(context) : Refuse(context);
    }

    /// <summary>The token leaves the address line at once: it goes into the cookie and the page is asked for again.</summary>
    private Task Admit(HttpContext context)
    {
        context.Response.Cookies.Append(Cookie, options.Token, new CookieOptions
        {
            HttpOnly = true,
            SameSite = SameSiteMode.Strict,
            Path = "/",
        });
        context.Response.Redirect(context.Request.Path);
        return Task.CompletedTask;
    }

    private static bool IsOwnHost(HttpContext context) =>
        context.Request.Host.Host == "127.0.0.1" && context.Request.Host.Port == context.Connection.LocalPort;

    private static bool IsOwnOrigin(HttpContext context)
    {
        string? origin = context.Request.Headers.Origin;
        if (origin is null)
        {
            return !context.WebSockets.IsWebSocketRequest;
        }

        return origin == $"http://127.0.0.1:{context.Connection.LocalPort}";
    }

    private static Task Refuse(HttpContext context)
    {
        context.Response.StatusCode = StatusCodes.Status403Forbidden;
        return context.Response.WriteAsync("This page belongs to the tablet's own browser. Open it with the Companion's start command.");
    }
}
