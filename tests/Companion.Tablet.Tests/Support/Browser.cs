using Microsoft.Playwright;

namespace Companion.Tablet.Tests.Support;

/// <summary>One headless Chromium for all tests of a class.</summary>
public sealed class Browser : IAsyncLifetime
{
    /// <summary>A little more than the page's own grace.</summary>
    private const int Settle = 500;

    private IPlaywright? _playwright;
    private IBrowser? _chromium;

    public async Task InitializeAsync()
    {
        _playwright = await Playwright.CreateAsync();
        Assertions.SetDefaultExpectTimeout(20_000);
        _chromium = await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = Environment.GetEnvironmentVariable("COMPANION_CHROMIUM") ?? "/usr/bin/chromium",
            Args = ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"],
        });
    }

    /// <summary>A fresh page with touch at a size, open at a path of a rig.</summary>
    /// <param name="script">Runs in the page before its own.</param>
    internal Task<IPage> OpenAsync(TabletRig rig, string path = "/", int width = 1280, int height = 800, string? script = null) =>
        OpenAsync(Companion.Tablet.Web.TabletWeb.Address(rig.Web, path).ToString(), width, height, script);

    /// <summary>A fresh page with touch, open at an address.</summary>
    internal async Task<IPage> OpenAsync(string address, int width = 1280, int height = 800, string? script = null)
    {
        var context = await _chromium!.NewContextAsync(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = height },
            HasTouch = true,
        });
        if (script is not null)
        {
            await context.AddInitScriptAsync(script);
        }

        var page = await context.NewPageAsync();
        page.SetDefaultTimeout(30_000);
        await page.GotoAsync(address);
        await page.WaitForSelectorAsync("html[data-link=up]");

        // A finger that is down sooner was meant for what was there before, and the page takes it so.
        await Task.Delay(Settle);
        return page;
    }

    public async Task DisposeAsync()
    {
        await (_chromium?.DisposeAsync() ?? ValueTask.CompletedTask);
        _playwright?.Dispose();
    }
}
