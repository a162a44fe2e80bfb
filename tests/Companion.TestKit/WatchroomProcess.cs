using System.Diagnostics;

namespace Companion.TestKit;

/// <summary>
/// The watch room as a process of its own, on one port of this machine and over one store, to be killed without warning and started again. Used by
/// one thread at a time.
/// </summary>
/// <param name="assembly">The watch room's assembly.</param>
/// <param name="store">Its store.</param>
public sealed class WatchroomProcess(string assembly, string store) : IDisposable
{
    private const string FingerprintLine = "Certificate SHA-256: ";
    private const string ReadyLine = "Watch board: ";
    private readonly int _port = QuietPort.Next();
    private Process? _process;

    /// <summary>Its store.</summary>
    public string Store => store;

    /// <summary>The folder of its journal.</summary>
    public string Journal => Path.Combine(store, "journal");

    /// <summary>Where it answers, the same after every start: tablets must find it again.</summary>
    public Uri Address => new($"https://127.0.0.1:{_port}");

    /// <summary>Variables of its environment beside this process's own.</summary>
    public Dictionary<string, string> Environment { get; } = [];

    /// <summary>SHA-256 of its certificate, once it has started.</summary>
    public string Fingerprint { get; private set; } = string.Empty;

    /// <summary>When it answered last, by the wall clock.</summary>
    public DateTimeOffset AnswersSince { get; private set; }

    /// <summary>Starts it, and waits until it watches and answers.</summary>
    /// <returns>How long that took from the start of the process.</returns>
    public async Task<TimeSpan> StartAsync()
    {
        var since = Stopwatch.GetTimestamp();
        _process = Started("--port", $"{_port}", "--listen", "127.0.0.1");
        while (await _process.StandardOutput.ReadLineAsync().ConfigureAwait(false) is { } line)
        {
            if (line.StartsWith(FingerprintLine, StringComparison.Ordinal))
            {
                Fingerprint = line[FingerprintLine.Length..];
            }
            else if (line.StartsWith(ReadyLine, StringComparison.Ordinal))
            {
                var took = Stopwatch.GetElapsedTime(since);
                AnswersSince = TimeProvider.System.GetUtcNow();

                // Left unread, what it says later would fill the pipe and stop it.
                _ = _process.StandardOutput.BaseStream.CopyToAsync(Stream.Null);
                return took;
            }
        }

        throw new InvalidOperationException($"The watch room did not start: {await _process.StandardError.ReadToEndAsync().ConfigureAwait(false)}");
    }

    /// <summary>Runs one of its verbs beside it.</summary>
    /// <param name="typed">What is typed into it.</param>
    /// <param name="words">The verb.</param>
    /// <returns>What it says.</returns>
    public async Task<string> VerbAsync(string typed, params string[] words)
    {
        using var process = Started(words);
        await process.StandardInput.WriteLineAsync(typed).ConfigureAwait(false);
        process.StandardInput.Close();
        var answer = await process.StandardOutput.ReadToEndAsync().ConfigureAwait(false);
        await process.WaitForExitAsync().ConfigureAwait(false);
        return answer.Trim();
    }

    /// <summary>A code to pair one tablet with.</summary>
    public Task<string> PairCodeAsync() => VerbAsync(string.Empty, "pair-code");

    /// <summary>Kills it (SIGKILL).</summary>
    public void Kill()
    {
        if (_process is { HasExited: false })
        {
            _process.Kill();
            _process.WaitForExit();
        }

        _process?.Dispose();
        _process = null;
    }

    /// <inheritdoc/>
    public void Dispose() => Kill();

    private Process Started(params string[] words)
    {
        var start = new ProcessStartInfo("dotnet", [assembly, .. words, "--store", store])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        foreach (var (name, value) in Environment)
        {
            start.Environment[name] = value;
        }

        return Process.Start(start)!;
    }
}
