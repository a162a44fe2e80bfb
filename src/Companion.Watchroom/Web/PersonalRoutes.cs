using System.Security.Claims;
using Companion.Watchroom.Retention;
using Companion.Watchroom.Web.Pages;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;

namespace Companion.Watchroom.Web;

/// <summary>What an administrator does with personal data: hand a person what is held about them, and erase that of a job on request.</summary>
internal static class PersonalRoutes
{
    private const int LongestReason = 400;

    /// <summary>Maps them.</summary>
    public static void Map(IEndpointRouteBuilder routes, WatchroomServices services, RoomRetention retention)
    {
        routes.MapGet("/personal", (ClaimsPrincipal user) => Page(retention, user, string.Empty)).RequireAuthorization(PageRoutes.Administers);
        routes.MapPost("/personal/export", (ClaimsPrincipal user, [FromForm] string name) => ExportAsync(services, retention, user, name))
            .RequireAuthorization(PageRoutes.Administers);
        routes.MapPost("/personal/erase", async (ClaimsPrincipal user, [FromForm] string device, [FromForm] string job, [FromForm] string reason) =>
        {
            var why = reason.Trim();
            var problem = why.Length is 0 or > LongestReason ? $"Say why, in 1 to {LongestReason} letters."
                : services.Devices.Find(device.Trim()) is null ? "There is no such tablet. The page Tablets lists them."
                : await retention.EraseJobAsync(device.Trim(), job.Trim(), user.Identity!.Name!, why).ConfigureAwait(false);
            return Page(retention, user, problem ?? $"Erased: the personal texts of {job.Trim()} that are held here. Its chain stays provable. Erase them on the tablet too.");
        }).RequireAuthorization(PageRoutes.Administers);
    }

    private static async Task<IResult> ExportAsync(WatchroomServices services, RoomRetention retention, ClaimsPrincipal user, string name)
    {
        if (name.Trim().Length == 0)
        {
            return Page(retention, user, "Type the name as it is recorded.");
        }

        var lines = PersonalRecords.Of(services, name);
        await services.Audit.ActAsync("person.exported", new { entries = lines.Count }, ("person", user.Identity!.Name!), ("subject", name.Trim())).ConfigureAwait(false);
        return lines.Count == 0
            ? Page(retention, user, "Nothing is held about that person.")
            : Results.File([.. lines.SelectMany(line => line.ToArray().Append((byte)'\n'))], "application/x-ndjson", "person.ndjson");
    }

    private static RazorComponentResult<PersonalPage> Page(RoomRetention retention, ClaimsPrincipal user, string told) =>
        new(new Dictionary<string, object?>
        {
            ["Policy"] = retention.Policy(),
            ["Told"] = retention.Fault ?? told,
            ["Viewer"] = new Viewer(user.Identity!.Name!, PageRoutes.RoleOf(user)),
        }) { PreventStreamingRendering = true };
}
