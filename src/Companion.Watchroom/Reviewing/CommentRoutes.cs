using System.Security.Claims;
using Companion.Watchroom.Access;
using Companion.Watchroom.Web;
using Microsoft.AspNetCore.Mvc;

namespace Companion.Watchroom.Reviewing;

/// <summary>The comments on a job: a page, and the forms on it. For team leads and administrators; forms carry the antiforgery token.</summary>
internal static class CommentRoutes
{
    /// <summary>Maps them.</summary>
    public static void Map(IEndpointRouteBuilder routes, Comments comments, Audit audit)
    {
        var job = routes.MapGroup("/jobs/{device}/{chain}/comments").RequireAuthorization(PageRoutes.Takes);
        job.MapGet(string.Empty, async (ClaimsPrincipal user, string device, string chain) =>
        {
            await audit.LookedAsync(user.Identity!.Name!, device, chain, "comments").ConfigureAwait(false);
            return PageRoutes.Page<CommentsPage>(new CommentsModel(device, chain, comments.Of(device, chain)), user);
        });
        job.MapPost(string.Empty, async (ClaimsPrincipal user, string device, string chain, [FromForm] long sequence, [FromForm] string? text, [FromForm] string? words) =>
            Done(device, chain, await comments.AddAsync(device, chain, sequence, user.Identity!.Name!, text ?? string.Empty, words == "technician").ConfigureAwait(false)));
        job.MapPost("/countersign", async (ClaimsPrincipal user, string device, string chain, [FromForm] long comment) =>
            Done(device, chain, await comments.CountersignAsync(device, chain, comment, user.Identity!.Name!).ConfigureAwait(false)));
    }

    private static IResult Done(string device, string chain, string? problem) => problem is null
        ? Results.Redirect($"/jobs/{Uri.EscapeDataString(device)}/{Uri.EscapeDataString(chain)}/comments")
        : Results.Text(problem, statusCode: StatusCodes.Status422UnprocessableEntity);
}
