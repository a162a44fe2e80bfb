using Companion.Contracts.Uplink;
using Companion.Watchroom.Access;

namespace Companion.Watchroom.Web;

/// <summary>Refusals: a status, a reason in plain words, and an entry in the audit chain.</summary>
internal static class Answers
{
    /// <summary>Refuses a request.</summary>
    /// <param name="device">Who asked, as far as it is known: for the audit chain.</param>
    /// <param name="kind">What was the matter, in one word: for the audit chain.</param>
    public static Task RefuseAsync(HttpContext context, Audit audit, string device, string kind, int status, string reason, long? leastCounter = null)
    {
        audit.Refused(device, kind, status, reason);
        context.Response.StatusCode = status;
        return context.Request.Path.StartsWithSegments("/uplink")
            ? context.Response.WriteAsJsonAsync(new Refused(reason, leastCounter), UplinkFormat.Json)
            : context.Response.WriteAsync(reason);
    }

    /// <summary>Answers a tablet.</summary>
    public static Task WriteAsync<T>(HttpContext context, T answer, int status = StatusCodes.Status200OK)
    {
        context.Response.StatusCode = status;
        return context.Response.WriteAsJsonAsync(answer, UplinkFormat.Json);
    }
}
