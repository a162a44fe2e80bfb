using System.Text;
using Companion.Pages.Record;
using Companion.Pages.Replay;
using Companion.Review.Listening;
using Companion.Screens.Colours;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Companion.Review.Tests.Replaying;

/// <summary>A page with nothing but a replay, under the headers of the heads.</summary>
internal sealed class ReplayHost : IAsyncDisposable
{
    private const string Policy = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; connect-src 'self'";
    private readonly WebApplication _app;

    private ReplayHost(WebApplication app) => _app = app;

    public Uri Address => new(_app.Urls.First());

    public static async Task<ReplayHost> StartAsync(RecordedJob record, Func<string, byte[]?> speak, SoundShelf? sound = null)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.Logging.SetMinimumLevel(LogLevel.Warning);
        builder.Services.AddRazorComponents();
        var app = builder.Build();
        app.Use((context, next) =>
        {
            context.Response.Headers.ContentSecurityPolicy = Policy;
            return next(context);
        });
        app.MapGroup("/record/{chain}").MapReplay(new RecordShelf(new OneRecord(record), TimeProvider.System), speak, sound);
        app.MapGet("/", async () => Results.Content(await PageAsync(app.Services, record, sound is not null), "text/html"));
        app.MapGet("/{file}", (string file) => Results.Bytes(FileOf(file), file.EndsWith("js", StringComparison.Ordinal) ? "text/javascript" : "text/css"));
        await app.StartAsync();
        return new ReplayHost(app);
    }

    public ValueTask DisposeAsync() => _app.DisposeAsync();

    private static async Task<string> PageAsync(IServiceProvider services, RecordedJob record, bool playsSound)
    {
        await using var renderer = new HtmlRenderer(services, services.GetRequiredService<ILoggerFactory>());
        var panel = await renderer.Dispatcher.InvokeAsync(async () => (await renderer.RenderComponentAsync<ReplayPanel>(ParameterView.FromDictionary(
            new Dictionary<string, object?> { ["Record"] = record, ["Address"] = $"/record/{record.Chain}", ["PlaysSound"] = playsSound }))).ToHtmlString());
        return $"""
            <!DOCTYPE html><html lang="en-GB"><head><meta charset="utf-8"><title>Replay</title><meta name="viewport" content="width=device-width, initial-scale=1">
            <link rel="icon" href="data:,"><link rel="stylesheet" href="/palette.css"><link rel="stylesheet" href="/board.css"><link rel="stylesheet" href="/replay.css">
            <script src="/replay.js" defer></script><script src="/sound.js" defer></script></head><body><header class="head"><h1 class="head-title">A job</h1></header><main class="board">{panel}</main></body></html>
            """;
    }

    private static byte[] FileOf(string name)
    {
        if (name == "palette.css")
        {
            return Encoding.UTF8.GetBytes(Palette.Stylesheet());
        }

        using var stream = typeof(ReplayPanel).Assembly.GetManifestResourceStream($"page/{name}") ?? typeof(ReplayHost).Assembly.GetManifestResourceStream($"page/{name}")!;
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        return bytes.ToArray();
    }

    private sealed class OneRecord(RecordedJob record) : IRecordSource
    {
        public IReadOnlyList<RecordName> Names() => [new(string.Empty, record.Chain)];

        public RecordedJob? Open(RecordName name) => name.Chain == record.Chain ? record : null;

        public string StampOf(RecordName name) => string.Empty;
    }
}
