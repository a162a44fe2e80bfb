using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.TestKit;
using Companion.Uplink;

namespace Companion.Watchroom.Tests.Together;

/// <summary>The watch room as a process of its own that is killed without warning, with real tablets at the other end (I10, I11).</summary>
public sealed class KilledWatchroomTests : IDisposable
{
    /// <summary>COMPANION_WATCHROOM_KILLS scales it.</summary>
    private static readonly int Kills = int.TryParse(Environment.GetEnvironmentVariable("COMPANION_WATCHROOM_KILLS"), out var kills) ? kills : 3;

    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(3);
    private readonly string _folder = Directory.CreateTempSubdirectory("companion-killed-watchroom-").FullName;
    private readonly int _port = FreePort();
    private readonly Random _random = new(11);
    private Process? _process;

    private string Store => Path.Combine(_folder, "watchroom");

    [Fact]
    public async Task No_alert_is_lost_or_doubled_however_often_it_is_killed()
    {
        var fingerprint = await StartAsync();
        var tablets = new List<WatchroomUplink>();
        for (var tablet = 0; tablet < 4; tablet++)
        {
            tablets.Add(await TabletAsync(tablet, fingerprint));
        }

        for (var kill = 0; kill < Kills; kill++)
        {
            await Task.Delay(_random.Next(500, 3000));
            Kill();
            Assert.Equal(fingerprint, await StartAsync());
        }

        var since = TimeProvider.System.GetTimestamp();
        var taken = new HashSet<string>();
        while (taken.Count < tablets.Count && TimeProvider.System.GetElapsedTime(since) < Patience)
        {
            await Task.Delay(500);
            Kill();
            taken = [.. Alerted(await RecordedAsync())];
            if (taken.Count < tablets.Count)
            {
                await StartAsync();
                await Task.Delay(5000);
            }
        }

        foreach (var tablet in tablets)
        {
            await tablet.DisposeAsync();
        }

        var alerted = Alerted(await RecordedAsync()).ToList();
        Assert.Equal(["overdue:0", "overdue:1", "overdue:2", "overdue:3"], alerted.Select(Short).Order());
        Assert.Equal(alerted.Distinct(), alerted);
    }

    public void Dispose()
    {
        Kill();
        Directory.Delete(_folder, true);
    }

    /// <summary>One that is free now: the tablets must find the watch room again where it was.</summary>
    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    private static string Short(string alert) => $"{alert.Split(':')[0]}:{alert.Split(':')[2].Split('-')[1]}";

    private static IEnumerable<string> Alerted(IEnumerable<string> entries) =>
        entries.Select(data => JsonDocument.Parse(data).RootElement.GetProperty("alert").GetString()!);

    private async Task<IReadOnlyList<string>> RecordedAsync()
    {
        await using var journal = await JournalStore.OpenAsync(Path.Combine(Store, "journal"), new StoreOptions(new ManualClock()));
        return [.. journal.Read("watch").Where(entry => entry.Type == "watch.alerted").Select(entry => entry.Data)];
    }

    private async Task<WatchroomUplink> TabletAsync(int number, string fingerprint)
    {
        var parts = new UplinkParts(Path.Combine(_folder, $"tablet-{number}"), new NoJournal(), () => BeatOf(number), TimeProvider.System, Random.Shared.NextDouble)
        {
            BeatEvery = TimeSpan.FromMilliseconds(200),
        };
        var address = new Uri($"https://127.0.0.1:{_port}");
        Assert.Null(await Pairing.PairAsync(parts, address, fingerprint, await VerbAsync("pair-code"), Guid.NewGuid(), $"van {number}"));
        return WatchroomUplink.Start(parts);
    }

    /// <summary>Somebody who checked in once, and never again.</summary>
    private static Beat BeatOf(int number) => new(
        $"job-{number}", $"Technician {number}", "working", null, null, new CheckInStatement(1, 0, 3 + number, 1, "working"), [], [], true, false);

    private async Task<string> StartAsync()
    {
        _process = Started("--port", $"{_port}", "--listen", "127.0.0.1");
        var fingerprint = string.Empty;
        while (await _process.StandardOutput.ReadLineAsync() is { } line)
        {
            fingerprint = line.StartsWith("Certificate SHA-256: ", StringComparison.Ordinal) ? line["Certificate SHA-256: ".Length..] : fingerprint;
            if (line.StartsWith("Watch board: ", StringComparison.Ordinal))
            {
                return fingerprint;
            }
        }

        throw new InvalidOperationException($"The watch room did not start: {await _process.StandardError.ReadToEndAsync()}");
    }

    private async Task<string> VerbAsync(string verb)
    {
        using var process = Started(verb);
        var answer = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        return answer.Trim();
    }

    private Process Started(params string[] words) => Process.Start(
        new ProcessStartInfo("dotnet", [typeof(WatchroomApp).Assembly.Location, .. words, "--store", Store]) { RedirectStandardOutput = true, RedirectStandardError = true })!;

    private void Kill()
    {
        if (_process is { HasExited: false })
        {
            _process.Kill();
            _process.WaitForExit();
        }

        _process?.Dispose();
        _process = null;
    }

    private sealed class NoJournal : IOutboxSource
    {
        public IReadOnlyList<string> Chains() => [];

        public IReadOnlyList<OutboxLine> Read(string chain, long fromSequence) => [];
    }
}
