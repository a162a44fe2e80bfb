using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;

namespace Companion.Tablet.Watchdog;

/// <summary>
/// Keeps a watchdog process beside the app: one that ends is replaced, and one that an earlier start left behind, sounding for an app that
/// is gone, is ended. Disposing ends it on purpose.
/// </summary>
public sealed class WatchdogKeeper : IDisposable
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan LongestEnd = TimeSpan.FromSeconds(2);

    private readonly Func<ProcessStartInfo> _start;
    private readonly string _note;
    private readonly Lock _gate = new();
    private Process? _process;
    private bool _ended;

    /// <summary>Starts the first one.</summary>
    /// <param name="store">The store's folder, where it is noted which process watches.</param>
    /// <param name="start">How one is started.</param>
    public WatchdogKeeper(string store, Func<ProcessStartInfo> start)
    {
        _start = start;
        _note = Path.Combine(store, "watchdog.pid");
        EndPredecessor();
        Start();
    }

    /// <summary>The process that watches now.</summary>
    public int ProcessId => _process!.Id;

    /// <inheritdoc/>
    public void Dispose()
    {
        lock (_gate)
        {
            _ended = true;
            if (_process is { HasExited: false } running)
            {
                running.Kill();
            }

            _process?.Dispose();
            OnDisk(() => File.Delete(_note));
        }
    }

    private void Start()
    {
        lock (_gate)
        {
            if (_ended)
            {
                return;
            }

            var process = new Process { StartInfo = _start(), EnableRaisingEvents = true };
            process.Exited += (_, _) => _ = ReplaceAsync();
            process.Start();
            _process?.Dispose();
            _process = process;
            OnDisk(() => File.WriteAllText(_note, ProcessMark.Of(process.Id)));
        }
    }

    /// <summary>A system that has no room for another process now may have it in a while.</summary>
    private async Task ReplaceAsync()
    {
        for (var started = false; !started;)
        {
            await Task.Delay(Pause).ConfigureAwait(false);
            try
            {
                Start();
                started = true;
            }
            catch (Win32Exception)
            {
                // Tried again after the pause: without a watchdog nobody would hear of a hang.
            }
        }
    }

    /// <summary>Best effort: a disk that is full must not keep the watchdog from watching.</summary>
    private static void OnDisk(Action act)
    {
        try
        {
            act();
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // The next start cannot end this one; a person can.
        }
    }

    /// <summary>Its number may have gone to another process since: only the very one that was noted is ended.</summary>
    private void EndPredecessor()
    {
        try
        {
            var noted = File.ReadAllText(_note);
            if (ProcessMark.NumberIn(noted) is { } number && ProcessMark.Of(number) == noted)
            {
                using var left = Process.GetProcessById(number);
                left.Kill();
                left.WaitForExit(LongestEnd);
            }
        }
        catch (Exception none) when (none is IOException or UnauthorizedAccessException or ArgumentException or InvalidOperationException or Win32Exception)
        {
            // None was left, or it has ended.
        }
    }
}
