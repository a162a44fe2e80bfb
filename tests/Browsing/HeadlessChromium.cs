using Microsoft.Playwright;

namespace Companion.Browsing;

/// <summary>
/// One headless Chromium for all tests of a class; COMPANION_CHROMIUM names another than the system's. This file is compiled into every project that needs
/// a browser: as a part of Companion.TestKit it would bring 135 MB of Playwright to each test project that needs none.
/// </summary>
/// <param name="expectMilliseconds">So long an expectation of a page is waited for.</param>
public abstract class HeadlessChromium(float expectMilliseconds = 20_000) : IAsyncLifetime
{
    private IPlaywright? playwright;
    private IBrowser? browser;

    /// <summary>The browser, once it is started.</summary>
    protected IBrowser Chromium => browser ?? throw new InvalidOperationException("The browser is not started.");

    public async Task InitializeAsync()
    {
        playwright = await Playwright.CreateAsync();
        Assertions.SetDefaultExpectTimeout(expectMilliseconds);
        browser = await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = Environment.GetEnvironmentVariable("COMPANION_CHROMIUM") ?? "/usr/bin/chromium",
            Args = ["--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"],
        });
    }

    /// <summary>Keeps a picture where COMPANION_SCREENSHOTS says.</summary>
    /// <param name="name">The picture's name, without an ending.</param>
    /// <param name="isWhole">True for the whole page, not only what the window shows of it.</param>
    public static async Task KeepAsync(IPage page, string name, bool isWhole = false)
    {
        if (Environment.GetEnvironmentVariable("COMPANION_SCREENSHOTS") is { Length: > 0 } folder)
        {
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{name}.png"), FullPage = isWhole });
        }
    }

    public async Task DisposeAsync()
    {
        await (browser?.DisposeAsync() ?? ValueTask.CompletedTask);
        playwright?.Dispose();
    }
}
