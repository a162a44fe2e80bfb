using System.Diagnostics;
using Companion.Pages.Record;
using Companion.Review;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Companion.Benchmarks.Review;

/// <summary>The pages of records by their real routes, over Kestrel on loopback, with neither sign-in nor TLS.</summary>
internal sealed class RecordHost : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly HttpClient http;

    private RecordHost(WebApplication app) => (this.app, http) = (app, new HttpClient { BaseAddress = new Uri(app.Urls.First()), Timeout = TimeSpan.FromMinutes(5) });

    /// <summary>Starts it.</summary>
    public static async Task<RecordHost> StartAsync(IRecordSource source)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        builder.Logging.ClearProviders();
        builder.Services.AddRazorComponents();
        var app = builder.Build();
        app.MapGroup("/jobs").MapRecords(source, new RecordHead("/jobs", "Board"), hasDevices: true);
        await app.StartAsync();
        return new RecordHost(app);
    }

    /// <summary>Asks for a page and reads it whole.</summary>
    /// <returns>How long that took, and its length.</returns>
    public async Task<(TimeSpan Took, int Bytes)> GetAsync(string path)
    {
        var since = Stopwatch.GetTimestamp();
        var bytes = (await http.GetByteArrayAsync(path)).Length;
        return (Stopwatch.GetElapsedTime(since), bytes);
    }

    public async ValueTask DisposeAsync()
    {
        http.Dispose();
        await app.DisposeAsync();
    }
}
