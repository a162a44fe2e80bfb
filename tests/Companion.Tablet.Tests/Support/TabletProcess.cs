using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using Companion.Tablet.Cli;
using Companion.Tablet.Watchdog;

namespace Companion.Tablet.Tests.Support;

/// <summary>The app as a process of its own with its own watchdog beside it, without sound system and display; its alarm leaves a mark.</summary>
internal sealed class TabletProcess : IDisposable
{
    private readonly string _folder;
    private readonly string _store;
    private readonly Process _process;
    private readonly ConcurrentQueue<string> _lines = new();
    private readonly TaskCompletionSource<string> _address = new();

    /// <summary>Starts the app in a folder.</summary>
    /// <param name="folder">Where its programs and their marks are.</param>
    /// <param name="store">Where its store is.</param>
    /// <param name="display">True to let it believe in a display, with a browser that shows nothing and never ends.</param>
    public TabletProcess(string folder, string store, bool display = false)
    {
        _folder = folder;
        _store = store;
        var player = Script("player", $"date +%s%3N >>{Marks}\nsleep 1");
        var start = new ProcessStartInfo("dotnet", [typeof(StartVerb).Assembly.Location, "start", "--store", store])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["COMPANION_HOME"] = Places.Home;
        start.Environment["COMPANION_ALARM"] = player;
        start.Environment["PULSE_SERVER"] = $"unix:{folder}/nobody-listens-here";
        start.Environment.Remove("DISPLAY");
        start.Environment.Remove("WAYLAND_DISPLAY");
        if (display)
        {
            Script("chromium", $"echo $$ $1 >>{WindowMarks}\nexec sleep 600");
            start.Environment["DISPLAY"] = ":none";
            start.Environment["PATH"] = $"{folder}:{Environment.GetEnvironmentVariable("PATH")}";
        }

        _process = Process.Start(start)!;
        _process.OutputDataReceived += (_, line) => Take(line.Data);
        _process.ErrorDataReceived += (_, line) => Take(line.Data);
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
    }

    /// <summary>The times at which the alarm sounded, in milliseconds since 1970.</summary>
    public IReadOnlyList<long> Alarms => [.. Lines(Marks).Select(line => long.Parse(line, CultureInfo.InvariantCulture))];

    /// <summary>The windows that were opened so far: the process of each, and its first argument.</summary>
    public IReadOnlyList<(int Process, string Argument)> Windows => [.. Lines(WindowMarks).Select(line => line.Split(' '))
        .Where(words => words.Length == 2).Select(words => (int.Parse(words[0], CultureInfo.InvariantCulture), words[1]))];

    /// <summary>The watchdog that the app keeps now; null while there is none.</summary>
    public int? Watchdog => Lines(Path.Combine(_store, "watchdog.pid")) is [var mark, ..] ? ProcessMark.NumberIn(mark) : null;

    private string Marks => Path.Combine(_folder, "alarms");

    private string WindowMarks => Path.Combine(_folder, "windows");

    public Task<string> AddressAsync() => _address.Task.WaitAsync(TimeSpan.FromSeconds(60));

    public static bool IsRunning(int process) => ProcessMark.Of(process) is not null;

    /// <summary>kill -9 of the app alone. A wait without a limit would wait for the watchdog too, which holds the app's output open.</summary>
    public void Kill()
    {
        _process.Kill();
        Assert.True(_process.WaitForExit(TimeSpan.FromSeconds(10)));
    }

    public void Dispose()
    {
        if (!_process.HasExited)
        {
            Signals.Send("CONT", _process.Id);
            Signals.Send("TERM", _process.Id);
            if (!_process.WaitForExit(TimeSpan.FromSeconds(10)))
            {
                Kill();
            }
        }

        foreach (var left in Windows.Select(window => window.Process).Append(Watchdog ?? 0).Where(id => id > 0 && IsRunning(id)))
        {
            Signals.Send("KILL", left);
        }

        _process.Dispose();
    }

    private static string[] Lines(string file)
    {
        try
        {
            return [.. File.ReadAllLines(file).Where(line => line.Length > 0)];
        }
        catch (IOException)
        {
            return [];
        }
    }

    private string Script(string name, string does)
    {
        var path = Path.Combine(_folder, name);
        File.WriteAllText(path, $"#!/bin/sh\n{does}\n");
        File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        return path;
    }

    private void Take(string? line)
    {
        if (line is null)
        {
            return;
        }

        _lines.Enqueue(line);
        const string small = "Small view: ";
        if (line.StartsWith(small, StringComparison.Ordinal))
        {
            _address.TrySetResult(line[small.Length..].Replace("/cuff", "/", StringComparison.Ordinal));
        }
    }
}
