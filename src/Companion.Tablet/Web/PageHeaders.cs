using Microsoft.AspNetCore.Http;

namespace Companion.Tablet.Web;

/// <summary>
/// Headers of every answer: only own scripts, styles and fonts, nothing kept. No answer may be put into a frame but a sheet's document,
/// which only the Companion's own pages may show.
/// </summary>
internal static class PageHeaders
{
    /// <summary>Lets this answer, and it alone, be shown in a frame of an own page; it may load nothing whatever.</summary>
    public static void AllowFrame(HttpContext context) =>
        context.Response.Headers.ContentSecurityPolicy = "default-src 'none'; frame-ancestors 'self'";

    /// <summary>Sets them, and goes on.</summary>
    /// <param name="context">The request.</param>
    /// <param name="next">What answers it.</param>
    /// <param name="sharesPosition">True when own pages may ask the browser where the tablet is.</param>
    public static Task SetAsync(HttpContext context, RequestDelegate next, bool sharesPosition)
    {
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self'; "
            + $"frame-src 'self'; connect-src 'self' ws://127.0.0.1:{context.Connection.LocalPort}; base-uri 'self'; form-action 'none'; frame-ancestors 'none'";
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = $"camera=(), geolocation={(sharesPosition ? "(self)" : "()")}, microphone=()";
        headers.CacheControl = "no-store";
        return next(context);
    }
}
