using System.Net;
using Companion.Pages.Record;
using Companion.Review;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Companion.Tablet.Web;

/// <summary>The pages that look back, and nothing else, over records that are no store's: on 127.0.0.1, read-only, for whoever knows the token.</summary>
public static class RecordWeb
{
    /// <summary>The address of the list of records.</summary>
    public const string Root = "/record";

    /// <summary>A web application; the caller starts and stops it. Its address is <see cref="TabletWeb.Address"/>.</summary>
    public static WebApplication Build(TabletWebOptions options, IRecordSource records)
    {
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { ContentRootPath = AppContext.BaseDirectory });
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.Listen(IPAddress.Loopback, options.Port));
        builder.Logging.SetMinimumLevel(LogLevel.Warning);
        builder.Services.AddSingleton(options);
        builder.Services.AddRazorComponents();
        var app = builder.Build();
        app.Use((context, next) => PageHeaders.SetAsync(context, next, sharesPosition: false));
        app.UseMiddleware<GateKeeper>();
        app.UseRouting();
        PageFiles.Map(app);
        PageAssets.Map(app);
        app.MapGet("/", () => Results.Redirect(Root));
        app.MapGroup(Root).MapRecords(records, new RecordHead(Root, string.Empty) { Speak = Voice.Speaking.PromptSound.Usual().Wav }, hasDevices: false);
        return app;
    }
}
