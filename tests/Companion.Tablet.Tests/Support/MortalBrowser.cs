using System.Diagnostics;
using Microsoft.Playwright;

namespace Companion.Tablet.Tests.Support;

/// <summary>A Chromium whose processes a test can kill or stop as a system does.</summary>
internal sealed class MortalBrowser : IAsyncDisposable
{
    private readonly string _profile;
    private readonly IPlaywright _playwright;
    private readonly Process _process;
    private readonly IBrowser _browser;

    private MortalBrowser(string profile, IPlaywright playwright, Process process, IBrowser browser)
    {
        _profile = profile;
        _playwright = playwright;
        _process = process;
        _browser = browser;
    }

    public static async Task<MortalBrowser> StartAsync()
    {
        var profile = Directory.CreateTempSubdirectory("companion-mortal-").FullName;
        var process = Process.Start(new ProcessStartInfo(
            Environment.GetEnvironmentVariable("COMPANION_CHROMIUM") ?? "/usr/bin/chromium",
            ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--remote-debugging-port=0", $"--user-data-dir={profile}"])
        {
            RedirectStandardError = true,
        })!;
        const string announcement = "DevTools listening on ";
        string? line;
        while ((line = await process.StandardError.ReadLineAsync()) is not null && !line.StartsWith(announcement, StringComparison.Ordinal))
        {
        }

        _ = process.StandardError.ReadToEndAsync();
        var playwright = await Playwright.CreateAsync();
        return new MortalBrowser(profile, playwright, process, await playwright.Chromium.ConnectOverCDPAsync(line![announcement.Length..]));
    }

    public async Task<IPage> OpenAsync(TabletRig rig)
    {
        var page = await _browser.Contexts[0].NewPageAsync();
        page.SetDefaultTimeout(30_000);
        await page.GotoAsync(Companion.Tablet.Web.TabletWeb.Address(rig.Web).ToString());
        await page.WaitForSelectorAsync("html[data-link=up]");
        return page;
    }

    /// <summary>kill -9 of all its processes.</summary>
    public void Kill() => _process.Kill(entireProcessTree: true);

    /// <summary>Stops all its processes where they are: the last picture stays on the glass.</summary>
    public void Freeze() => Signals.Send("STOP", Signals.TreeOf(_process.Id));

    public async ValueTask DisposeAsync()
    {
        Kill();
        await _process.WaitForExitAsync();
        _process.Dispose();
        _playwright.Dispose();
        Directory.Delete(_profile, recursive: true);
    }
}
