using System.Security.Claims;
using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Journal.Format;
using Companion.Watchroom.Proving;

namespace Companion.Watchroom.Web;

/// <summary>What lets others check the record: a job with its proof, the key, and how the tree grew.</summary>
internal static class ProofRoutes
{
    /// <summary>Maps them.</summary>
    public static void Map(IEndpointRouteBuilder routes, WatchroomServices services)
    {
        routes.MapGet("/jobs/{device}/{job}/export", (string device, string job, ClaimsPrincipal user) => ExportAsync(services, device, job, user.Identity!.Name!))
            .RequireAuthorization(PageRoutes.Takes);
        routes.MapGet("/proof/key", () => CounterSigner.PublicPem(services.Store) is { } pem ? Results.Text(pem + "\n", "application/x-pem-file") : NoTree(services))
            .RequireAuthorization(PageRoutes.Looks);
        routes.MapGet("/proof/head", async () => await services.CounterSigner.HeadAsync().ConfigureAwait(false) is { } head ? Results.Json(head, UplinkFormat.Json) : NoTree(services))
            .RequireAuthorization(PageRoutes.Looks);
        routes.MapGet("/proof/growth", async (long first) => await services.CounterSigner.GrowthAsync(first).ConfigureAwait(false) is { } growth
            ? Results.Json(growth, UplinkFormat.Json)
            : Results.Text("The tree never had so many heads.", statusCode: StatusCodes.Status404NotFound))
            .RequireAuthorization(PageRoutes.Looks);
    }

    private static async Task<IResult> ExportAsync(WatchroomServices services, string device, string job, string person)
    {
        if (services.Devices.Find(device) is null || !EntryCodec.IsChainName(job) || job == Chains.Tablet)
        {
            return Results.Text("There is no such tablet or job.", statusCode: StatusCodes.Status404NotFound);
        }

        // Whoever is given a job is written down before it is given.
        await services.Audit.LookedAsync(person, device, job, "export").ConfigureAwait(false);
        return await JobBundle.MakeAsync(services.Receiver, services.CounterSigner, device, job).ConfigureAwait(false) is { } zip
            ? Results.File(zip, "application/zip", $"{job}.zip")
            : Results.Text("Nothing of this job has arrived.", statusCode: StatusCodes.Status404NotFound);
    }

    private static IResult NoTree(WatchroomServices services) => Results.Text(
        services.CounterSigner.Fault ?? "No tablet's signed head has arrived yet.", statusCode: StatusCodes.Status404NotFound);
}
