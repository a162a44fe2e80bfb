using System.Diagnostics;
using System.Net;
using System.Security.Cryptography.X509Certificates;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace Companion.Benchmarks.Watchroom;

/// <summary>The peer of the watch room: Kestrel alone, as a process of its own, with the same certificate. It reads a body and answers 200.</summary>
internal sealed class PlainServer : IDisposable
{
    /// <summary>The area by which this program becomes the server; not for people.</summary>
    public const string Verb = "plainserver";

    private readonly Process process;

    private PlainServer(Process process, Uri address) => (this.process, Address) = (process, address);

    /// <summary>Where it answers.</summary>
    public Uri Address { get; }

    /// <summary>Starts it, with the same kind of garbage collection as the watch room has.</summary>
    /// <param name="certificate">A PEM file with certificate and key.</param>
    public static async Task<PlainServer> StartAsync(string certificate)
    {
        var start = new ProcessStartInfo("dotnet", [typeof(PlainServer).Assembly.Location, Verb, certificate]) { RedirectStandardInput = true, RedirectStandardOutput = true };
        start.Environment["DOTNET_gcServer"] = "1";
        var process = Process.Start(start)!;
        return new PlainServer(process, new Uri((await process.StandardOutput.ReadLineAsync())!));
    }

    /// <summary>Is the server, until standard input ends.</summary>
    public static async Task<int> ServeAsync(string[] args)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseKestrelHttpsConfiguration();
        using var certificate = X509Certificate2.CreateFromPemFile(args[0]);
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.Listen(IPAddress.Loopback, 0, listen => listen.UseHttps(certificate)));
        builder.Logging.ClearProviders();
        await using var app = builder.Build();
        app.MapPost("/{**path}", async (HttpContext context) =>
        {
            await context.Request.Body.CopyToAsync(Stream.Null);
            return Results.Ok();
        });
        await app.StartAsync();
        Console.WriteLine(app.Urls.First());
        while (await Console.In.ReadLineAsync() is not null)
        {
        }

        await app.StopAsync();
        return 0;
    }

    public void Dispose()
    {
        process.StandardInput.Close();
        process.WaitForExit();
        process.Dispose();
    }
}
