using Companion.Watchroom.Access;

namespace Companion.Watchroom.Web;

/// <summary>What a request gets that went wrong before or beside its own answers.</summary>
internal static class FaultAnswers
{
    /// <summary>Answers in plain words; the log has the details.</summary>
    public static async Task CatchAsync(HttpContext context, RequestDelegate next, Audit audit)
    {
        try
        {
            await next(context).ConfigureAwait(false);
        }
        catch (BadHttpRequestException fault) when (!context.Response.HasStarted)
        {
            await Answers.RefuseAsync(context, audit, Audit.Stranger, "request", fault.StatusCode, "The request is not in the form that is asked for. Load the page again.").ConfigureAwait(false);
        }
        catch (Exception fault) when (!context.Response.HasStarted && !context.RequestAborted.IsCancellationRequested)
        {
            context.RequestServices.GetRequiredService<ILoggerFactory>().CreateLogger("Companion.Watchroom").LogError(fault, "A request failed.");
            await Answers.RefuseAsync(context, audit, Audit.Stranger, "fault", StatusCodes.Status500InternalServerError, "The watch room failed at this request. Try again.").ConfigureAwait(false);
        }
    }
}
