using Companion.Contracts.Uplink;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Web;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Companion.Watchroom.Tests.Web;

/// <summary>Every route that is mapped, whoever adds one: who may, by which token, how often.</summary>
public sealed class RouteTests
{
    /// <summary>Open to anybody: signing in, papers, the health of the watch room.</summary>
    private static readonly string[] Open = ["GET /login", "POST /login", "GET /check", "POST /check/photo", "POST /check/text", "POST /check/digits", "GET /health"];

    /// <summary>Change nothing and ask for no cookie, so that another page gains nothing by sending them.</summary>
    private static readonly string[] WithoutToken = ["POST /check/photo", "POST /check/text", "POST /check/digits"];

    /// <summary>What whoever is signed in may do, a technician too; all else is for a team lead or an administrator.</summary>
    private static readonly string[] ForAll = ["GET /", "GET /board", "GET /feed", "POST /logout", "GET /proof/key", "GET /proof/head", "GET /proof/growth"];

    [Fact]
    public async Task Every_route_asks_who_may_but_those_that_are_meant_to_be_open()
    {
        var routes = await RoutesAsync();

        var files = routes.Where(route => route.Name.StartsWith("GET /", StringComparison.Ordinal) && route.Name.Contains('.', StringComparison.Ordinal) && !route.Name.Contains('{', StringComparison.Ordinal) && !IsAuthorized(route.Endpoint)).ToList();
        Assert.All(files, file => Assert.Matches(@"^GET /[\w.-]+\.(css|js|svg|otf)$", file.Name));
        Assert.Equal(
            Open.Order(StringComparer.Ordinal),
            routes.Except(files).Where(route => !IsUplink(route.Name) && !IsAuthorized(route.Endpoint)).Select(route => route.Name).Order(StringComparer.Ordinal));
        Assert.Equal(
            ForAll.Order(StringComparer.Ordinal),
            routes.Where(route => PolicyOf(route.Endpoint) == PageRoutes.Looks).Select(route => route.Name).Order(StringComparer.Ordinal));
        Assert.All(routes.Where(route => IsAuthorized(route.Endpoint)), route =>
            Assert.Contains(PolicyOf(route.Endpoint), new[] { PageRoutes.Looks, PageRoutes.Takes, PageRoutes.Administers }));
    }

    [Fact]
    public async Task Every_form_asks_for_its_token_and_everything_but_a_beat_has_a_limit()
    {
        var routes = await RoutesAsync();

        Assert.All(routes, route => Assert.Matches("^(GET|POST) ", route.Name));
        Assert.Equal(
            WithoutToken.Order(StringComparer.Ordinal),
            routes.Where(route => route.Name.StartsWith("POST", StringComparison.Ordinal) && !IsUplink(route.Name) && route.Endpoint.Metadata.GetMetadata<IAntiforgeryMetadata>() is not { RequiresValidation: true })
                .Select(route => route.Name).Order(StringComparer.Ordinal));
        Assert.Equal(
            [$"POST {UplinkFormat.BeatPath}"],
            routes.Where(route => route.Endpoint.Metadata.GetMetadata<EnableRateLimitingAttribute>() is null).Select(route => route.Name));
    }

    private static bool IsUplink(string name) => name.StartsWith($"POST {UplinkFormat.Root}/", StringComparison.Ordinal);

    private static bool IsAuthorized(Endpoint endpoint) => endpoint.Metadata.GetMetadata<IAuthorizeData>() is not null && endpoint.Metadata.GetMetadata<IAllowAnonymous>() is null;

    private static string? PolicyOf(Endpoint endpoint) => endpoint.Metadata.GetMetadata<IAuthorizeData>()?.Policy;

    private static async Task<IReadOnlyList<(string Name, Endpoint Endpoint)>> RoutesAsync()
    {
        await using var rig = await WatchroomRig.StartAsync();
        var routes = rig.App.Web.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
            .SelectMany(endpoint => (endpoint.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? ["ANY"]).Select(method => ($"{method} /{endpoint.RoutePattern.RawText!.Trim('/')}", (Endpoint)endpoint)))
            .ToList();
        Assert.True(routes.Count > 40, $"Only {routes.Count} routes were found.");
        return routes;
    }
}
