using System.Net;
using System.Security.Cryptography.X509Certificates;
using Companion.Contracts.Uplink;
using Companion.Pages.Record;
using Companion.Watchroom.Access;
using Companion.Watchroom.Retention;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;

namespace Companion.Watchroom.Web;

/// <summary>The uplink and the pages over HTTPS.</summary>
internal static class WatchroomWeb
{
    /// <summary>A web application over the watch room; the caller starts and stops it.</summary>
    public static WebApplication Build(WatchroomOptions options, WatchroomServices services, X509Certificate2 certificate)
    {
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions
        {
            ApplicationName = typeof(WatchroomWeb).Assembly.GetName().Name,
            ContentRootPath = AppContext.BaseDirectory,
        });
        builder.WebHost.UseKestrelHttpsConfiguration();
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = UplinkFormat.LargestBeat;
            if (options.Listen is { } address)
            {
                kestrel.Listen(address, options.Port, listen => listen.UseHttps(certificate));
            }
            else
            {
                kestrel.ListenAnyIP(options.Port, listen => listen.UseHttps(certificate));
            }
        });
        builder.Logging.SetMinimumLevel(LogLevel.Warning);

        // The keys lie in the store, which only its owner may enter, as the certificate's key does.
        builder.Logging.AddFilter("Microsoft.AspNetCore.DataProtection", LogLevel.Error);
        builder.Logging.AddFilter("Microsoft.AspNetCore.Antiforgery", LogLevel.Critical);
        AddServices(builder.Services, options, services);
        var app = builder.Build();
        Route(app, services);
        return app;
    }

    /// <summary>The address of the board on this machine; known once the application has started.</summary>
    public static Uri Address(WebApplication app, WatchroomOptions options)
    {
        var bound = new Uri(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First());
        return options.Listen is { } address && !IPAddress.IsLoopback(address) ? bound : new UriBuilder(bound) { Host = "localhost", Path = "/" }.Uri;
    }

    private static void AddServices(IServiceCollection services, WatchroomOptions options, WatchroomServices watchroom)
    {
        services.AddSingleton(watchroom);
        services.AddSingleton(watchroom.Uplink);

        // A feed that fails makes the pages sound their alarm; it must not end the watch.
        services.Configure<HostOptions>(host => host.BackgroundServiceExceptionBehavior = BackgroundServiceExceptionBehavior.Ignore);
        services.AddSingleton<UplinkGate>();
        services.AddSingleton<UplinkRoutes>();
        services.AddSingleton<BoardFeed>();
        services.AddHostedService(provider => provider.GetRequiredService<BoardFeed>());
        services.AddHostedService<SpoolDrain>();
        services.AddHostedService(provider => new ServiceWord(
            Environment.GetEnvironmentVariable(ServiceWord.Variable), watchroom.IsWatching, ServiceWord.Usual, provider.GetRequiredService<IHostApplicationLifetime>()));
        services.AddSingleton<RoomRetention>();
        services.AddHostedService<DailyRetention>();
        services.AddRazorComponents();
        services.AddDataProtection()
            .SetApplicationName("Companion.Watchroom")
            .PersistKeysToFileSystem(new DirectoryInfo(PrivateFolder.Make(Path.Combine(options.Store, "keys"))));
        services.AddAntiforgery(antiforgery =>
        {
            antiforgery.Cookie.Name = "__Host-companion-form";
            antiforgery.Cookie.SecurePolicy = CookieSecurePolicy.Always;
            antiforgery.Cookie.SameSite = SameSiteMode.Strict;
            antiforgery.Cookie.Path = "/";
            antiforgery.SuppressXFrameOptionsHeader = true;
        });
        services.AddAuthentication(SessionHandler.Name).AddScheme<AuthenticationSchemeOptions, SessionHandler>(SessionHandler.Name, null);
        services.AddAuthorizationBuilder()
            .AddPolicy(PageRoutes.Looks, policy => policy.RequireAuthenticatedUser())
            .AddPolicy(PageRoutes.Takes, policy => policy.RequireRole(nameof(Role.TeamLead), nameof(Role.Administrator)))
            .AddPolicy(PageRoutes.Administers, policy => policy.RequireRole(nameof(Role.Administrator)));
        Limits.Add(services, watchroom.Audit);
    }

    private static void Route(WebApplication app, WatchroomServices services)
    {
        app.Use(PageHeaders.SetAsync);
        app.Use((context, next) => FaultAnswers.CatchAsync(context, next, services.Audit));
        app.UseRouting();
        app.UseRateLimiter();
        app.UseAuthentication();
        app.UseAuthorization();
        app.UseAntiforgery();
        app.Services.GetRequiredService<UplinkRoutes>().Map(app);
        HealthRoute.Map(app, services);
        var pages = app.MapGroup(string.Empty).RequireRateLimiting(Limits.Page);
        PageFiles.Map(pages);
        PageAssets.Map(pages);
        PageRoutes.Map(pages, app);
    }
}
