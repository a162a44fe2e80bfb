using Companion.Contracts.Uplink;

namespace Companion.Watchroom.Web;

/// <summary>
/// Headers of every answer: nothing kept or guessed; those for people also only own scripts, styles and fonts, no frames. A tablet asks every few
/// seconds, often over a poor link, and reads JSON alone: what only a browser obeys is left out there.
/// </summary>
internal static class PageHeaders
{
    private const string Policy = "default-src 'none'; script-src 'self'; worker-src 'self'; style-src 'self'; font-src 'self'; img-src 'self'; "
        + "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

    public static Task SetAsync(HttpContext context, RequestDelegate next)
    {
        var headers = context.Response.Headers;
        headers.XContentTypeOptions = "nosniff";
        headers.CacheControl = "no-store";
        if (context.Request.Path.StartsWithSegments(UplinkFormat.Root, StringComparison.Ordinal))
        {
            return next(context);
        }

        headers.ContentSecurityPolicy = Policy;
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(), geolocation=(), microphone=()";
        return next(context);
    }
}
