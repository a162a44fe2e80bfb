using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Screens.Showing;
using Companion.Tablet.Linking;
using Companion.Tablet.Tests.Support;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>Where the tablet is, from the browser's own finding to the app; the browser is told where it is.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class PositionShownTests(Browser browser) : IClassFixture<Browser>
{
    /// <summary>Counts how often the page asks the browser.</summary>
    private const string Counted = """
        window.asked = 0;
        for (const name of ['getCurrentPosition', 'watchPosition']) {
          const real = navigator.geolocation[name].bind(navigator.geolocation);
          navigator.geolocation[name] = (...told) => { window.asked++; return real(...told); };
        }
        """;

    private const string Share = "button[data-position=share]";
    private const string Stop = "button[data-position=stop]";

    [Fact]
    public async Task It_is_told_once_the_browser_allows_it_until_it_is_stopped_and_never_asked_for_by_itself()
    {
        var position = new TabletPosition(TimeProvider.System);
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal, position: position);
        rig.Link = new LinkStanding { SharesPosition = true };
        var page = await browser.OpenAsync(rig, script: Counted);
        await Expect(page.Locator(Share)).ToBeVisibleAsync();
        await Expect(page.Locator(".link-line").Last).ToHaveTextAsync("The watch room does not see where the tablet is.");
        await Whole.AssertAsync(page, "position not shared");
        Assert.Equal((0, null), (await page.EvaluateAsync<int>("() => window.asked"), position.Latest));

        await page.Context.SetGeolocationAsync(new() { Latitude = 51.76215f, Longitude = -1.31887f, Accuracy = 14 });
        await page.Context.GrantPermissionsAsync(["geolocation"]);
        await TabletRig.UntilTrueAsync(() => position.Latest is not null);
        Assert.Equal(14, position.Latest!.AccuracyMetres);
        Assert.StartsWith("51.762", position.Latest.Latitude, StringComparison.Ordinal);
        Assert.StartsWith("-1.318", position.Latest.Longitude, StringComparison.Ordinal);
        Assert.InRange(position.Latest.AgeMilliseconds, 0, 60_000);
        rig.Link = new LinkStanding { SharesPosition = true, Where = position.Latest };
        await Expect(page.Locator(".link-line").Last).ToContainTextAsync("within 14 m, found just now");
        await Whole.AssertAsync(page, "position shared");

        await page.Context.SetGeolocationAsync(new() { Latitude = 51.8f, Longitude = -1.3f, Accuracy = 5 });
        await TabletRig.UntilTrueAsync(() => position.Latest is { AccuracyMetres: 5 });

        await page.TapAsync(Stop);
        await Expect(page.Locator(Share)).ToBeVisibleAsync();
        await TabletRig.UntilTrueAsync(() => position.Latest is null);
        await page.FocusAsync(Share);
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator(Stop)).ToBeVisibleAsync();
        await TabletRig.UntilTrueAsync(() => position.Latest is not null);
    }

    [Fact]
    public async Task In_a_job_it_says_on_the_report_panel_that_it_is_shared_and_offers_no_key()
    {
        var position = new TabletPosition(TimeProvider.System);
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal, position: position);
        await rig.OpenAsync();
        await rig.UntilAsync(NeedKind.OpenPoint);
        position.Take(51.76215, -1.31887, 14, 0);
        rig.Link = new LinkStanding { SharesPosition = true, Where = position.Latest };
        var page = await browser.OpenAsync(rig, script: Counted);
        await page.PanelAsync("changed");
        await Expect(page.Locator(".panel .link-line").Last).ToContainTextAsync("Shared: in a job the watch room sees where the tablet is");
        await Expect(page.Locator("button[data-position]:visible")).ToHaveCountAsync(0);
        Assert.Equal(0, await page.EvaluateAsync<int>("() => window.asked"));
        await Whole.AssertAsync(page, "position shared, report");
    }

    [Fact]
    public async Task Where_it_is_not_shared_no_key_is_offered_though_the_browser_would_allow_it()
    {
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal);
        var page = await browser.OpenAsync(rig, script: Counted);
        await page.Context.GrantPermissionsAsync(["geolocation"]);
        await Task.Delay(500);
        await Expect(page.Locator(Share)).ToBeHiddenAsync();
        Assert.Equal(0, await page.EvaluateAsync<int>("() => window.asked"));
    }
}
