using Companion.Browsing;
using Microsoft.Playwright;

namespace Companion.Tablet.Tests.Support;

/// <summary>One headless Chromium for all tests of a class.</summary>
public sealed class Browser : HeadlessChromium
{
    /// <summary>A little more than the page's own grace.</summary>
    private const int Settle = 500;

    /// <summary>A fresh page with touch at a size, open at a path of a rig.</summary>
    /// <param name="script">Runs in the page before its own.</param>
    internal Task<IPage> OpenAsync(TabletRig rig, string path = "/", int width = 1280, int height = 800, string? script = null) =>
        OpenAsync(Companion.Tablet.Web.TabletWeb.Address(rig.Web, path).ToString(), width, height, script);

    /// <summary>A fresh page with touch, open at an address.</summary>
    internal async Task<IPage> OpenAsync(string address, int width = 1280, int height = 800, string? script = null)
    {
        var context = await Chromium.NewContextAsync(new BrowserNewContextOptions
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
}
