using Companion.Browsing;
using Companion.Watchroom.Tests.Support;
using Microsoft.Playwright;

namespace Companion.Watchroom.Tests.Web;

/// <summary>One headless Chromium for all tests of the board. A page counts the tones that it starts.</summary>
public sealed class BoardBrowser() : HeadlessChromium(expectMilliseconds: 40_000)
{
    private const string CountTones = """
        window.sounded = 0;
        const start = OscillatorNode.prototype.start;
        OscillatorNode.prototype.start = function (...when) { window.sounded++; return start.apply(this, when); };
        """;

    /// <summary>A page with the board, after signing in as a person does.</summary>
    public async Task<IPage> SignInAsync(WatchroomRig rig, string name = "Runa Holt", int width = 1280, int height = 800)
    {
        var context = await Chromium.NewContextAsync(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = width, Height = height },
            IgnoreHTTPSErrors = true,
        });
        await context.AddInitScriptAsync(CountTones);
        var page = await context.NewPageAsync();
        page.SetDefaultTimeout(40_000);
        await page.GotoAsync(rig.App.Address.ToString());
        await page.FillAsync("input[name=name]", name);
        await page.FillAsync("input[name=password]", WatchroomRig.Password);
        await page.ClickAsync("main button");
        await page.WaitForSelectorAsync("html[data-alarm]");
        return page;
    }

    /// <summary>Keeps a picture of the whole page.</summary>
    public Task KeepAsync(IPage page, string where) => KeepAsync(page, $"watchroom-{where}", isWhole: true);
}
