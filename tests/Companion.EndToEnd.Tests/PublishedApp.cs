using System.Collections.Concurrent;
using System.Diagnostics;
using Companion.Tablet.Cli;

namespace Companion.EndToEnd.Tests;

/// <summary>The published app as a process of its own, on a private sound system, with data whose dates are good today.</summary>
internal sealed class PublishedApp : IAsyncDisposable
{
    /// <summary>The collection of the tests that start it: two at once would be more than the tablet ever runs.</summary>
    public const string OneAtATime = "the published app";

    private readonly Process _process;
    private readonly ConcurrentQueue<string> _lines = new();
    private readonly TaskCompletionSource<string> _address = new();

    public PublishedApp(string folder, string soundServer)
    {
        Store = Path.Combine(folder, "store");
        var published = Path.Combine(Places.Home, "artifacts", "app", "Companion.Tablet");
        Assert.True(File.Exists(published), "The published app is missing; ./companion test makes it.");
        var start = new ProcessStartInfo(published, ["start", "--store", Store])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["COMPANION_HOME"] = Places.Home;
        start.Environment["COMPANION_DATA"] = Data(folder);
        start.Environment["COMPANION_ALARM"] = "true";
        start.Environment["PULSE_SERVER"] = soundServer;
        start.Environment["PULSE_SINK"] = "spk";
        start.Environment["PULSE_SOURCE"] = "mic";
        start.Environment.Remove("DISPLAY");
        start.Environment.Remove("WAYLAND_DISPLAY");
        _process = Process.Start(start)!;
        _process.OutputDataReceived += (_, line) => Take(line.Data);
        _process.ErrorDataReceived += (_, line) => Take(line.Data);
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
    }

    /// <summary>The store's folder.</summary>
    public string Store { get; }

    /// <summary>Everything that it printed.</summary>
    public string Output => string.Join(Environment.NewLine, _lines);

    /// <summary>The address that it prints where there is no display.</summary>
    public Task<string> AddressAsync() => _address.Task.WaitAsync(TimeSpan.FromSeconds(60));

    /// <summary>Told to end as a service manager does; the exit code.</summary>
    public async Task<int> StopAsync()
    {
        using (var kill = Process.Start("kill", ["-TERM", _process.Id.ToString()]))
        {
            await kill.WaitForExitAsync();
        }

        await _process.WaitForExitAsync().WaitAsync(TimeSpan.FromSeconds(20));
        return _process.ExitCode;
    }

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited)
        {
            _process.Kill(entireProcessTree: true);
            await _process.WaitForExitAsync();
        }

        _process.Dispose();
    }

    private void Take(string? line)
    {
        if (line is null)
        {
            return;
        }

        _lines.Enqueue(line);
        if (line.StartsWith("No display. Open ", StringComparison.Ordinal))
        {
            _address.TrySetResult(line.Split(' ')[3]);
        }
    }

    /// <summary>A real sheet with waits of a minute, the shortest that a real store takes, and a kit that was tested lately.</summary>
    private static string Data(string folder)
    {
        var data = Directory.CreateDirectory(Path.Combine(folder, "data")).FullName;
        Directory.CreateDirectory(Path.Combine(data, "sheets"));
        Directory.CreateDirectory(Path.Combine(data, "kit"));
        foreach (var name in new[] { "crew.yaml", "arrival.yaml" })
        {
            File.Copy(Path.Combine(Places.Data, name), Path.Combine(data, name));
        }

        var today = DateOnly.FromDateTime(DateTime.Today);
        var sheet = File.ReadAllText(Path.Combine(Places.Data, "sheets", "tarnbeck-pipit.yaml"));
        sheet = Replace(sheet, "(?<![a-z])seconds: [0-9]+", "seconds: 60");
        File.WriteAllText(Path.Combine(data, "sheets", "pipit.yaml"), Replace(sheet, "reviewby: \"[^\"]*\"", $"reviewby: \"{Day(today.AddDays(90))}\""));
        var kit = File.ReadAllText(Path.Combine(Places.Data, "kit", "standard.yaml"));
        kit = Replace(kit, "tested: \"[^\"]*\"", $"tested: \"{Day(today.AddDays(-20))}\"");
        kit = Replace(kit, "firstissue: \"[^\"]*\"", $"firstissue: \"{Day(today.AddDays(-10))}\"");
        File.WriteAllText(Path.Combine(data, "kit", "standard.yaml"), Replace(kit, "due: \"[^\"]*\"", $"due: \"{Day(today.AddDays(90))}\""));
        return data;
    }

    private static string Replace(string text, string pattern, string by) => System.Text.RegularExpressions.Regex.Replace(text, pattern, by);

    private static string Day(DateOnly day) => day.ToString("yyyy-MM-dd");
}
