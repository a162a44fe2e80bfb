using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace Companion.Watchroom.Tests.Support;

/// <summary>The watch room as a process of its own, on a port that stays the same, for what only a process shows: being killed, its environment.</summary>
internal sealed class WatchroomProcess(string store) : IDisposable
{
    private readonly int port = FreePort();
    private Process? process;

    /// <summary>Where it answers.</summary>
    public Uri Address => new($"https://127.0.0.1:{port}");

    /// <summary>Variables of its environment.</summary>
    public Dictionary<string, string> Environment { get; } = [];

    /// <summary>Starts it; the fingerprint of its certificate.</summary>
    public async Task<string> StartAsync()
    {
        process = Started("--port", $"{port}", "--listen", "127.0.0.1");
        var fingerprint = string.Empty;
        while (await process.StandardOutput.ReadLineAsync() is { } line)
        {
            fingerprint = line.StartsWith("Certificate SHA-256: ", StringComparison.Ordinal) ? line["Certificate SHA-256: ".Length..] : fingerprint;
            if (line.StartsWith("Watch board: ", StringComparison.Ordinal))
            {
                return fingerprint;
            }
        }

        throw new InvalidOperationException($"The watch room did not start: {await process.StandardError.ReadToEndAsync()}");
    }

    /// <summary>What a verb of its command line prints.</summary>
    public async Task<string> VerbAsync(string verb)
    {
        using var other = Started(verb);
        var answer = await other.StandardOutput.ReadToEndAsync();
        await other.WaitForExitAsync();
        return answer.Trim();
    }

    /// <summary>Ends it without warning.</summary>
    public void Kill()
    {
        if (process is { HasExited: false })
        {
            process.Kill();
            process.WaitForExit();
        }

        process?.Dispose();
        process = null;
    }

    public void Dispose() => Kill();

    /// <summary>One that is free now: the tablets must find the watch room again where it was.</summary>
    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    private Process Started(params string[] words)
    {
        var start = new ProcessStartInfo("dotnet", [typeof(WatchroomApp).Assembly.Location, .. words, "--store", store]) { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (var (name, value) in Environment)
        {
            start.Environment[name] = value;
        }

        return Process.Start(start)!;
    }
}
