using System.ComponentModel;
using System.Diagnostics;

namespace Companion.Tablet.Kiosk;

/// <summary>Opens the job screen in a browser window of its own; without a display it prints the address.</summary>
public static class KioskLauncher
{
    private static readonly string[] Browsers = ["chromium", "chromium-browser", "google-chrome"];

    // No updates, no sync, no dialogues, no zoom by two fingers: the window shows the job and nothing else.
    private static readonly string[] Flags =
    [
        "--start-fullscreen", "--no-first-run", "--no-default-browser-check", "--disable-background-networking", "--disable-component-update",
        "--disable-sync", "--disable-quic", "--noerrdialogs", "--hide-crash-restore-bubble", "--disable-pinch", "--disable-features=Translate",
        "--overscroll-history-navigation=0",
    ];

    /// <summary>Opens the address; null when it was printed instead.</summary>
    /// <param name="address">The address with its token.</param>
    /// <param name="profile">A folder for the browser's own files, so that nothing of another browser mixes in.</param>
    /// <param name="output">Where the address is printed.</param>
    public static Process? Open(Uri address, string profile, TextWriter output)
    {
        if (!HasDisplay(Environment.GetEnvironmentVariable))
        {
            output.WriteLine($"No display. Open {address} in a browser on this tablet.");
            return null;
        }

        foreach (var browser in Browsers)
        {
            if (Start(browser, Arguments(address, profile, Environment.IsPrivilegedProcess)) is { } started)
            {
                return started;
            }
        }

        output.WriteLine($"No Chromium found. Open {address} in a browser on this tablet.");
        return null;
    }

    /// <summary>The browser's arguments. Chromium refuses to run as root with its sandbox; the page is the tablet's own.</summary>
    public static IReadOnlyList<string> Arguments(Uri address, string profile, bool privileged) =>
        [$"--app={address}", $"--user-data-dir={profile}", .. Flags, .. privileged ? ["--no-sandbox"] : Array.Empty<string>()];

    /// <summary>True when a window can be opened.</summary>
    public static bool HasDisplay(Func<string, string?> environment) =>
        !string.IsNullOrEmpty(environment("DISPLAY")) || !string.IsNullOrEmpty(environment("WAYLAND_DISPLAY"));

    private static Process? Start(string browser, IReadOnlyList<string> arguments)
    {
        try
        {
            var started = Process.Start(new ProcessStartInfo(browser, arguments) { RedirectStandardError = true, RedirectStandardOutput = true });
            started?.BeginErrorReadLine();
            started?.BeginOutputReadLine();
            return started;
        }
        catch (Win32Exception)
        {
            // This browser is not there; the next one may be.
            return null;
        }
    }
}
