using Microsoft.Playwright;

namespace Companion.Tablet.Tests.Support;

/// <summary>One headless Chromium for all tests of a class.</summary>
public sealed class Browser : IAsyncLifetime
{
    private IPlaywright? _playwright;
    private IBrowser? _chromium;

    public async Task InitializeAsync()
    {
        _playwright = await Playwright.CreateAsync();
        _chromium = await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = Environment.GetEnvironmentVariable("COMPANION_CHROMIUM") ?? "/usr/bin/chromium",
            Args = ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"],
        });
    }

    /// <summary>A fresh page with touch at a size, open at a path of a rig.</summary>
    internal async Task<IPage> OpenAsync(TabletRig rig, string path = "/", int width = 1280, int height = 800)
    {
        var context = await _chromium!.NewContextAsync(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = height },
            HasTouch = true,
        });
        var page = await context.NewPageAsync();
        page.SetDefaultTimeout(30_000);
        await page.GotoAsync(Companion.Tablet.Web.TabletWeb.Address(rig.Web, path).ToString());
        await page.WaitForSelectorAsync("html[data-link=up]");
        return page;
    }

    public async Task DisposeAsync()
    {
        await (_chromium?.DisposeAsync() ?? ValueTask.CompletedTask);
        _playwright?.Dispose();
    }
}
