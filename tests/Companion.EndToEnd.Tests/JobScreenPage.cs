using Companion.Browsing;
using Companion.Tablet.Tests.Support;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Companion.EndToEnd.Tests;

/// <summary>A headless browser of the tablet's size, with touch.</summary>
internal sealed class JobScreenPage : HeadlessChromium, IAsyncDisposable
{
    public static async Task<JobScreenPage> LaunchAsync()
    {
        var screen = new JobScreenPage();
        await screen.InitializeAsync();
        return screen;
    }

    /// <summary>Opens the page and, by touch, a job with a second person and the standard kit.</summary>
    public async Task<IPage> OpenJobAsync(string address)
    {
        var context = await Chromium.NewContextAsync(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = 1280, Height = 800 },
            HasTouch = true,
        });
        var page = await context.NewPageAsync();
        page.SetDefaultTimeout(60_000);
        await page.GotoAsync(address);
        await page.WaitForSelectorAsync("html[data-link=up]");

        // A finger that is down sooner was meant for what was there before, and the page takes it so.
        await Task.Delay(500);
        await page.TouchAsync("[data-press='technician:maren']");
        await page.TouchAsync("[data-press='secondperson:della']");
        await page.TouchAsync("[data-press='kit:standard']");
        await Expect(page.Locator("[data-press=open]")).Not.ToHaveAttributeAsync("aria-disabled", "true");
        // On a busy machine the page may be covered just when it is touched.
        var attempts = 0;
        do
        {
            await page.TouchAsync("[data-press=open]", 1600);
        }
        while (++attempts < 5 && !await page.IsSeenAsync(".ask-words"));

        await Expect(page.Locator(".ask-words")).ToContainTextAsync("Sound check.");
        return page;
    }

    /// <summary>Settles the arrival list by touch up to its read-back: half the answers of a job are given so, and it saves two minutes.</summary>
    public static async Task ArriveAsync(IPage page)
    {
        for (var touch = 0; touch < 60 && await page.Locator(".ask-words:has-text('Check this')").CountAsync() == 0; touch++)
        {
            await page.TouchAsync("[data-press=primary]");
            await Task.Delay(400);
        }

        await Expect(page.Locator(".ask-words")).ToContainTextAsync("Check this");
    }

    async ValueTask IAsyncDisposable.DisposeAsync() => await DisposeAsync();
}
