using Microsoft.Playwright;

namespace Companion.Review.Tests.Replaying;

/// <summary>One headless Chromium for all tests of the replay's page.</summary>
public sealed class ReplayBrowser : IAsyncLifetime
{
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

    internal async Task<IPage> OpenAsync(ReplayHost host)
    {
        var page = await _chromium!.NewPageAsync(new() { ViewportSize = new() { Width = 1280, Height = 800 } });
        page.SetDefaultTimeout(30_000);
        await page.GotoAsync(host.Address.ToString());
        await page.WaitForSelectorAsync("[data-replay][data-ready]");
        return page;
    }

    /// <summary>Keeps a picture where COMPANION_SCREENSHOTS says.</summary>
    public static async Task KeepAsync(IPage page, string where)
    {
        if (Environment.GetEnvironmentVariable("COMPANION_SCREENSHOTS") is { Length: > 0 } folder)
        {
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"replay-{where}.png") });
        }
    }

    public async Task DisposeAsync()
    {
        await (_chromium?.DisposeAsync() ?? ValueTask.CompletedTask);
        _playwright?.Dispose();
    }
}
