using System.Net;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.Pages.Record;
using Companion.Screens;
using Companion.Screens.Starting;
using Companion.Tablet.Components;
using Companion.Tablet.Watchdog;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.AspNetCore.Components.Server.Circuits;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Companion.Tablet.Web;

/// <summary>The screens, served to the tablet's own browser on 127.0.0.1.</summary>
public static class TabletWeb
{
    /// <summary>A web application over an engine; the caller starts and stops it. Stopping it changes nothing in the job.</summary>
    public static WebApplication Build(
        TabletWebOptions options, JobEngine engine, IClock clock, ISheetCatalogue sheets, JobOpening opening)
    {
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions
        {
            ApplicationName = typeof(TabletWeb).Assembly.GetName().Name,
            ContentRootPath = AppContext.BaseDirectory,
        });
        builder.WebHost.UseStaticWebAssets();
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.Listen(IPAddress.Loopback, options.Port));
        builder.Logging.SetMinimumLevel(LogLevel.Warning);
        AddServices(builder.Services, options, engine, ScreenParts.Of(engine, clock, sheets, opening, options.Speed) with { Link = options.Link });
        var app = builder.Build();
        Route(app, engine, sheets);
        return app;
    }

    /// <summary>The address to open in the browser, token included; known once the application has started.</summary>
    public static Uri Address(WebApplication app, string path = "/")
    {
        var options = app.Services.GetRequiredService<TabletWebOptions>();
        return new Uri(Root(app), $"{path}?{GateKeeper.Query}={options.Token}");
    }

    /// <summary>The address of the beat, without the token; known once the application has started.</summary>
    public static Uri BeatAddress(WebApplication app) => new(Root(app), "/beat");

    /// <summary>Calls for a view while an open job has none.</summary>
    public static void WhenNoView(WebApplication app, Action call) => app.Services.GetRequiredService<Views>().NoneLeft += call;

    private static Uri Root(WebApplication app) =>
        new(app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First());

    private static void AddServices(IServiceCollection services, TabletWebOptions options, JobEngine engine, ScreenParts parts)
    {
        services.AddSingleton(options);
        services.AddSingleton(engine);
        services.AddSingleton(parts);
        services.AddSingleton(TimeProvider.System);
        services.AddSingleton<ScreenTicker>();
        services.AddHostedService(provider => provider.GetRequiredService<ScreenTicker>());
        services.AddSingleton<Views>();
        services.AddScoped<CircuitHandler, ViewWatch>();
        services.AddRazorComponents().AddInteractiveServerComponents(circuits =>
        {
            // A view that is gone comes back by loading anew; nothing is kept for it but a moment for a short break of the link.
            circuits.DisconnectedCircuitRetentionPeriod = TimeSpan.FromSeconds(10);
            circuits.DisconnectedCircuitMaxRetained = 4;
        }).AddHubOptions(hub =>
        {
            // A browser that hangs keeps its last picture on the glass: it counts as lost as soon as its pings, one a second, stay out.
            hub.ClientTimeoutInterval = TimeSpan.FromSeconds(4);
            hub.KeepAliveInterval = TimeSpan.FromSeconds(2);
        });
    }

    private static void Route(WebApplication app, JobEngine engine, ISheetCatalogue sheets)
    {
        var sharesPosition = app.Services.GetRequiredService<TabletWebOptions>().Position is not null;
        app.Use((context, next) => PageHeaders.SetAsync(context, next, sharesPosition));
        app.UseWebSockets();
        app.UseMiddleware<GateKeeper>();
        app.UseRouting();
        app.UseAntiforgery();
        app.MapStaticAssets();
        PageFiles.Map(app);
        PageAssets.Map(app);
        MapRecords(app, engine);
        if (app.Services.GetRequiredService<TabletWebOptions>().Position is { } position)
        {
            PositionRoutes.Map(app, position);
        }

        SheetDocuments.Map(app, sheets, app.Services.GetRequiredService<TabletWebOptions>().SheetFolder);
        app.Services.GetRequiredService<ScreenTicker>().Turned += app.Services.GetRequiredService<Views>().Look;
        app.MapPost("/alarm", (AlarmReport report) => OutsideAlarm.Tell(engine, report.Seconds));
        app.MapGet("/beat", () => Results.Json(BeatReport.Of(engine.Snapshot)));
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode(mode =>
        {
            mode.DisableWebSocketCompression = true;
            mode.ContentSecurityFrameAncestorsPolicy = null;
        });
    }

    /// <summary>While a job is open its own screen stays up: a record hides warnings, and no view would show the job. An open page leaves by its script.</summary>
    private static void MapRecords(WebApplication app, JobEngine engine)
    {
        if (app.Services.GetRequiredService<TabletWebOptions>().Records is { } records)
        {
            var head = new RecordHead("/record", "Back")
            {
                Speak = Voice.Speaking.PromptSound.Usual().Wav,
                MayLook = () => engine.Snapshot.Job is null or { Ended: true },
                Code = (_, record) => records is StoreRecords own ? StorePaperSigner.CodeOf(own.Store, record) : null,
                Script = "/looking.js",
            };
            app.MapGet("/looking", () => Results.StatusCode(head.MayLook() ? StatusCodes.Status204NoContent : StatusCodes.Status409Conflict));
            app.MapGroup(head.Root).MapRecords(records, head, hasDevices: false);
        }
    }
}
