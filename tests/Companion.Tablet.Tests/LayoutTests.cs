using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Tablet.Tests.Support;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Companion.Tablet.Tests;

/// <summary>What the page looks like, measured: sizes, nothing cut off, readable by everybody.</summary>
public sealed class LayoutTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    /// <summary>20 mm on a 10 inch screen of 1280 x 800, 149 pixels an inch (Colle and Hiszem 2004: no fewer errors above 20 mm).</summary>
    private const int TwentyMillimetres = 118;

    private const string Outside = """
        () => [...document.querySelectorAll('.head, .main, .bar, .ask-words, .big, .key, .countdown, .statement, .alarm, .sheet, .cuff-main > *')]
          .filter(e => { const b = e.getBoundingClientRect(); return b.width > 0 && (b.right > innerWidth + 1 || b.bottom > innerHeight + 1 || b.left < -1); })
          .map(e => e.className)
        """;

    private static readonly NeedKind[] Stops =
    [
        NeedKind.SoundCheck, NeedKind.ChooseSheet, NeedKind.CheckKit, NeedKind.OpenPoint, NeedKind.FitLock, NeedKind.WaitOver,
        NeedKind.ProveTester, NeedKind.TakeReading, NeedKind.ClaimDead, NeedKind.Working,
    ];

    private TabletRig _rig = null!;

    public async Task InitializeAsync() => _rig = await TabletRig.StartAsync(StoreKind.Rehearsal);

    public async Task DisposeAsync() => await _rig.DisposeAsync();

    [Fact]
    public async Task No_screen_of_a_job_has_an_accessibility_fault_or_anything_cut_off()
    {
        var page = await browser.OpenAsync(_rig);
        await CheckAsync(page, "start");
        await _rig.OpenAsync();
        foreach (var stop in Stops)
        {
            await _rig.UntilAsync(stop);
            await SeenAsync(page);
            await CheckAsync(page, stop.ToString());
        }

        await _rig.SayAsync(Phrase.Stop);
        await SeenAsync(page);
        await CheckAsync(page, "alarm");
        _rig.Hang();
        await page.WaitForSelectorAsync("html[data-link=down]");
        await CheckAsync(page, "cover");
    }

    [Theory]
    [InlineData("changed")]
    [InlineData("steps")]
    [InlineData("keys")]
    public async Task No_panel_has_an_accessibility_fault(string panel)
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(NeedKind.OpenPoint);
        var page = await browser.OpenAsync(_rig);
        await page.TouchAsync($"[data-press='panel:{panel}']");
        await page.WaitForSelectorAsync(".panel");
        await CheckAsync(page, panel);
        await page.Keyboard.PressAsync("F10");
        await page.WaitForSelectorAsync("html[data-palette=night]");
        await CheckAsync(page, $"{panel} by night");
    }

    [Fact]
    public async Task Every_key_for_a_gloved_finger_is_at_least_20_mm_each_way()
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(NeedKind.TakeReading);
        var page = await browser.OpenAsync(_rig);

        foreach (var key in await page.Locator(".big, .key").AllAsync())
        {
            var box = (await key.BoundingBoxAsync())!;
            Assert.True(box.Width >= TwentyMillimetres && box.Height >= TwentyMillimetres, $"{await key.InnerTextAsync()}: {box.Width} x {box.Height}");
        }
    }

    [Fact]
    public async Task Words_and_countdown_are_large_enough_for_an_arms_length()
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(NeedKind.WaitOver);
        var page = await browser.OpenAsync(_rig);

        Assert.True(await SizeAsync(page, ".ask-words") >= 40);
        Assert.True(await SizeAsync(page, ".countdown-left") >= 96);
        Assert.Equal("B612", await page.EvaluateAsync<string>("() => [...document.fonts].find(f => f.status === 'loaded')?.family.replaceAll('\"', '')"));
    }

    [Theory]
    [InlineData(240)]
    [InlineData(320)]
    public async Task The_cuff_shows_a_glance_without_scrolling(int size)
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(NeedKind.WaitOver, 2);
        var cuff = await browser.OpenAsync(_rig, "/cuff", size, size);
        await cuff.WaitForSelectorAsync(".countdown-left");
        await CheckAsync(cuff, "cuff");
        Assert.True(await cuff.Locator(".rehearsal").IsVisibleAsync());
        await _rig.SayAsync(Phrase.KeyOn);
        await cuff.WaitForSelectorAsync(".cuff-banner");
        await CheckAsync(cuff, "cuff alarm");
        Assert.True(await cuff.EvaluateAsync<bool>("() => document.documentElement.scrollHeight <= innerHeight"));
    }

    private static Task<double> SizeAsync(IPage page, string selector) =>
        page.EvaluateAsync<double>("selector => parseFloat(getComputedStyle(document.querySelector(selector)).fontSize)", selector);

    private async Task SeenAsync(IPage page) =>
        await page.WaitForFunctionAsync("key => document.querySelector('[data-shown]').dataset.shown.startsWith(key + '.')", $"{_rig.Job.Question!.Sequence}");

    private static async Task CheckAsync(IPage page, string where)
    {
        var found = await page.RunAxe();
        Assert.True(found.Violations.Length == 0, $"{where}: {string.Join("; ", found.Violations.Select(fault => $"{fault.Id} {fault.Nodes[0].Html}"))}");
        var outside = await page.EvaluateAsync<string[]>(Outside);
        Assert.True(outside.Length == 0, $"{where}: outside the window: {string.Join(", ", outside)}");
    }
}
