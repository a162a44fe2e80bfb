using Companion.Browsing;
using Microsoft.Playwright;

namespace Companion.Review.Tests.Replaying;

/// <summary>One headless Chromium for all tests of the replay's page.</summary>
public sealed class ReplayBrowser : HeadlessChromium
{
    internal async Task<IPage> OpenAsync(ReplayHost host)
    {
        var page = await Chromium.NewPageAsync(new() { ViewportSize = new() { Width = 1280, Height = 800 } });
        page.SetDefaultTimeout(30_000);
        await page.GotoAsync(host.Address.ToString());
        await page.WaitForSelectorAsync("[data-replay][data-ready]");
        return page;
    }

    /// <summary>Keeps a picture of what the window shows.</summary>
    public static Task KeepAsync(IPage page, string where) => KeepAsync(page, $"replay-{where}", isWhole: false);
}
