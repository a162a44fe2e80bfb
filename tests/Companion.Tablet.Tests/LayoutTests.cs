using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Engine.Ports;
using Companion.Tablet.Tests.Support;
using Companion.TestKit;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Companion.Tablet.Tests;

/// <summary>What the page looks like, measured: sizes, nothing cut off, readable by everybody.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class LayoutTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    /// <summary>20 mm on a 10 inch screen of 1280 x 800, 149 pixels an inch (Colle and Hiszem 2004: no fewer errors above 20 mm).</summary>
    private const int TwentyMillimetres = 118;

    private const string Outside = """
        () => [...document.querySelectorAll('.head, .main, .bar, .ask-words, .big, .key, .countdown, .statement, .alarm, .sheet, .cuff-main > *')]
          .filter(e => { const b = e.getBoundingClientRect(); return b.width > 0 && (b.right > innerWidth + 1 || b.bottom > innerHeight + 1 || b.left < -1); })
          .map(e => e.className)
        """;

    private const string CutInPanel = """
        () => { const panel = document.querySelector('.discharge').getBoundingClientRect();
          return [...document.querySelectorAll('.discharge p, .discharge text, .discharge circle')]
            .filter(e => { const b = e.getBoundingClientRect(); return b.height > 0 && (b.left < panel.left || b.right > panel.right || b.bottom > panel.bottom + 1); })
            .map(e => e.textContent || e.tagName); }
        """;

    /// <summary>What lies below the left half's lower edge; a countdown may be gone, but never be cut through.</summary>
    private const string CutOnTheLeft = """
        () => { const half = document.querySelector('.left').getBoundingClientRect();
          return [...document.querySelectorAll('.left > :not(.countdowns)')].filter(e => e.getBoundingClientRect().bottom > half.bottom + 1)
            .concat([...document.querySelectorAll('.left .countdown')].filter(e => { const b = e.getBoundingClientRect(), list = e.parentElement.getBoundingClientRect();
              return b.left < list.right - 1 && b.bottom > list.bottom + 1; }))
            .map(e => e.className); }
        """;

    /// <summary>Every rule; of what holds no list is made, which is most of the work.</summary>
    private static readonly AxeRunOptions ViolationsOnly = new() { ResultTypes = [ResultType.Violations], Iframes = false };

    private static readonly NeedKind[] Stops =
    [
        NeedKind.SoundCheck, NeedKind.ChooseSheet, NeedKind.CheckKit, NeedKind.OpenPoint, NeedKind.FitLock, NeedKind.WaitOver,
        NeedKind.ProveTester, NeedKind.TakeReading, NeedKind.ClaimDead, NeedKind.CountTools, NeedKind.Working, NeedKind.RemoveLock, NeedKind.PutBack,
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
            if (stop == NeedKind.RemoveLock)
            {
                await _rig.SayAsync(Phrase.WorkDone);
            }

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
    [InlineData("people")]
    [InlineData("handover")]
    public async Task No_panel_has_an_accessibility_fault(string panel)
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(NeedKind.OpenPoint);
        var page = await browser.OpenAsync(_rig);
        await page.PanelAsync(panel);
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

    // Went wrong: two banners pushed the 0 key off the screen, on a tablet that had lost its voice.
    [Theory]
    [InlineData(NeedKind.FitLock)]
    [InlineData(NeedKind.ProveTester)]
    [InlineData(NeedKind.TakeReading)]
    public async Task With_both_devices_lost_every_key_is_in_view_and_wide_enough_for_a_mitten(NeedKind kind)
    {
        const int nineteenMillimetres = 111;
        await _rig.OpenAsync();
        await _rig.UntilAsync(kind);
        _rig.Engine.Post(new DeviceNotice("microphone", false, "The microphone is not available. Check that it is plugged in."));
        _rig.Engine.Post(new DeviceNotice("loudspeaker", false, "The loudspeaker is not available. Check that it is plugged in."));
        var page = await browser.OpenAsync(_rig);
        await page.WaitForSelectorAsync(".banner-device");

        foreach (var key in await page.Locator(".key, .right .choice").AllAsync())
        {
            var box = (await key.BoundingBoxAsync())!;
            Assert.True(box.Height >= nineteenMillimetres, $"{await key.InnerTextAsync()}: {box.Height} px high");
            var hit = await page.EvaluateAsync<bool>(
                "({ x, y, press }) => document.elementFromPoint(x, y)?.closest('[data-press]')?.dataset.press === press",
                new { x = (double)(box.X + (box.Width / 2)), y = (double)(box.Y + box.Height - 6), press = await key.GetAttributeAsync("data-press") });
            Assert.True(hit, $"{await key.InnerTextAsync()} is covered or cut at its lower edge");
        }

        await Browser.KeepAsync(page, $"deaf-{kind}");
        await CheckAsync(page, $"{kind} without devices");
    }

    // Went wrong: beside a keypad the line that tells why an answer was not taken lay below the lower edge.
    [Theory]
    [InlineData(NeedKind.ProveTester, false)]
    [InlineData(NeedKind.TakeReading, false)]
    [InlineData(NeedKind.CountTools, false)]
    [InlineData(NeedKind.ProveTester, true)]
    [InlineData(NeedKind.TakeReading, true)]
    public async Task What_was_answered_last_is_whole_beside_a_keypad(NeedKind kind, bool isDeaf)
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(kind);
        await _rig.SayAsync(Phrase.ProvedDead);
        if (isDeaf)
        {
            _rig.Engine.Post(new DeviceNotice("microphone", false, "The microphone is not available. Check that it is plugged in."));
        }

        var page = await browser.OpenAsync(_rig);
        await page.WaitForSelectorAsync(isDeaf ? ".banners ~ .left .heard-refused" : ".heard-refused");

        await Browser.KeepAsync(page, $"refused-{kind}-{isDeaf}");
        Assert.Empty(await page.EvaluateAsync<string[]>(CutOnTheLeft));
        await CheckAsync(page, $"{kind} refused");
    }

    // I19: a code that the screen shows would prove nothing about the loudspeaker.
    [Fact]
    public async Task The_code_of_the_sound_check_is_nowhere_on_the_screen()
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(NeedKind.SoundCheck);
        var code = _rig.Job.Question!.Code!;
        var page = await browser.OpenAsync(_rig);
        var cuff = await browser.OpenAsync(_rig, "/cuff", 320, 320);

        foreach (var text in new[] { await page.InnerTextAsync("body"), await cuff.InnerTextAsync("body") })
        {
            Assert.Contains("Sound check.", text, StringComparison.Ordinal);
            Assert.DoesNotContain(code, text, StringComparison.Ordinal);
            Assert.DoesNotContain(Companion.Domain.Speaking.Wording.Digits(code), text, StringComparison.Ordinal);
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
        await Assertions.Expect(cuff.Locator(".rehearsal")).ToBeVisibleAsync();
        await _rig.SayAsync(Phrase.KeyOn);
        await cuff.WaitForSelectorAsync(".cuff-banner");
        await CheckAsync(cuff, "cuff alarm");
        Assert.True(await cuff.EvaluateAsync<bool>("() => document.documentElement.scrollHeight <= innerHeight"));
    }

    [Fact]
    public async Task Watching_readings_are_drawn_legibly_and_push_nothing_out()
    {
        // Watched over, as most who read about it will be: the picture of the README is taken here.
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal, watch: DemoWatch.Even(7200, 120, 60));
        await rig.OpenAsync();
        await rig.UntilAsync(NeedKind.OpenPoint, 2);
        await rig.UntilAsync(NeedKind.WaitOver);
        var page = await browser.OpenAsync(rig);
        // By the clock as it is: on a busy machine more than ten seconds pass between two readings, and a voltage that stays would be a finding.
        var began = rig.Clock.Now().Boot;
        for (var reading = 0; reading < 4; reading++)
        {
            var volts = 400 * Math.Exp(-(rig.Clock.Now().Boot - began).Nanoseconds / 100e9);
            await rig.SayAsync(Phrase.Watching, ((int)volts).ToString(System.Globalization.CultureInfo.InvariantCulture));
            await rig.PassAsync(10);
        }

        await page.WaitForSelectorAsync(".discharge-point:nth-of-type(4)");
        if (Environment.GetEnvironmentVariable("COMPANION_SCREENSHOTS") is { } folder)
        {
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, "watching.png") });
        }

        await CheckAsync(page, "watching");
        Assert.True(await SizeAsync(page, ".discharge-volts text") >= 18);
        Assert.True((await page.Locator(".discharge-plot").BoundingBoxAsync())!.Height >= 100);
        Assert.Empty(await page.EvaluateAsync<string[]>(CutInPanel));
    }

    private static Task<double> SizeAsync(IPage page, string selector) =>
        page.EvaluateAsync<double>("selector => parseFloat(getComputedStyle(document.querySelector(selector)).fontSize)", selector);

    private async Task SeenAsync(IPage page) =>
        await page.WaitForFunctionAsync("key => document.querySelector('[data-shown]').dataset.shown.startsWith(key + '.')", $"{_rig.Job.Question!.Sequence}");

    private static async Task CheckAsync(IPage page, string where)
    {
        var found = await page.RunAxe(ViolationsOnly);
        Assert.True(found.Violations.Length == 0, $"{where}: {string.Join("; ", found.Violations.Select(fault => $"{fault.Id} {fault.Nodes[0].Html}"))}");
        var outside = await page.EvaluateAsync<string[]>(Outside);
        Assert.True(outside.Length == 0, $"{where}: outside the window: {string.Join(", ", outside)}");
    }
}
