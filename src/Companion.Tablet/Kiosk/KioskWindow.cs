using System.Diagnostics;

namespace Companion.Tablet.Kiosk;

/// <summary>The one browser window of the tablet: nobody in gloves can open another, so one that died or hangs is replaced.</summary>
/// <param name="open">Opens a window; null where there is none to open.</param>
public sealed class KioskWindow(Func<Process?> open) : IDisposable
{
    // A limit also because a wait without one waits for the browser's output to end, which a stray child of it may hold open for ever.
    private static readonly TimeSpan LongestEnd = TimeSpan.FromSeconds(2);

    private readonly Lock _gate = new();
    private Process? _browser;
    private bool _none;

    /// <summary>Opens the window, in place of an earlier one. Returns at once; callable from any thread.</summary>
    public void Open() => Task.Run(() =>
    {
        lock (_gate)
        {
            if (_none)
            {
                return;
            }

            if (_browser is { HasExited: false } hanging)
            {
                // A browser that hangs would take a second start of itself for a new tab.
                hanging.Kill(entireProcessTree: true);
                hanging.WaitForExit(LongestEnd);
            }

            _browser?.Dispose();
            _browser = open();
            _none = _browser is null;
        }
    });

    /// <summary>Lets go of the window; it stays open and shows its cover.</summary>
    public void Dispose()
    {
        lock (_gate)
        {
            _browser?.Dispose();
        }
    }
}
