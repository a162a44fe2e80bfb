using Companion.Domain.Asking;
using Companion.Tablet.Tests.Support;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>The real page in a real browser.</summary>
public sealed class ScreenTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    private TabletRig _rig = null!;

    public async Task InitializeAsync() => _rig = await TabletRig.StartAsync();

    public async Task DisposeAsync() => await _rig.DisposeAsync();

    [Fact]
    public async Task A_job_is_opened_by_touch()
    {
        var page = await browser.OpenAsync(_rig);
        await page.TouchAsync("[data-press='technician:maren']");
        await page.TouchAsync("[data-press='secondperson:della']");
        await page.TouchAsync("[data-press='kit:standard']");
        await Expect(page.Locator("[data-press=open] .big-hint")).ToHaveTextAsync("Hold until full, then let go");
        await page.TouchAsync("[data-press=open]", 1500);

        await Expect(page.Locator(".ask-words")).ToContainTextAsync("Sound check.");
        Assert.Equal("maren", _rig.Job.Technician);
        Assert.True(_rig.Job.HasSecondPerson);
    }

    [Fact]
    public async Task A_short_hold_asks_for_the_code_and_a_long_one_opens_the_point()
    {
        var page = await AtAsync(NeedKind.OpenPoint);
        await page.TouchAsync("[data-press=primary]", 300);
        await Expect(page.Locator(".ask-code-digits")).ToBeVisibleAsync();
        Assert.Empty(_rig.Job.Points);

        await Task.Delay(400);
        await page.TouchAsync("[data-press=primary]", 1500);
        await Expect(page.Locator("[data-press='key:1']")).ToBeVisibleAsync();
        Assert.Single(_rig.Job.Points);
    }

    [Fact]
    public async Task A_second_finger_cancels_a_hold()
    {
        var page = await AtAsync(NeedKind.OpenPoint);
        await page.TouchWithTwoAsync("[data-press=primary]", ".ask-words", 1500);
        await Task.Delay(300);

        Assert.Null(_rig.Job.Question!.Echo);
        Assert.Empty(_rig.Job.Points);
    }

    [Fact]
    public async Task A_reading_is_typed_on_the_keypad_and_held()
    {
        var page = await AtAsync(NeedKind.TakeReading);
        foreach (var key in new[] { "key:3", "key:.", "key:5" })
        {
            await page.TouchAsync($"[data-press='{key}']");
        }

        await Expect(page.Locator(".entry-value")).ToHaveTextAsync("3.5");
        await page.TouchAsync("[data-press=primary]", 1500);
        await TabletRig.UntilTrueAsync(() => _rig.Job.Test?.Readings.Count == 1);

        Assert.Equal(3500, _rig.Job.Test!.Readings.Values.Single().Reading.Volts.Millivolts);
    }

    [Fact]
    public async Task Everything_is_done_by_keys_and_the_one_button()
    {
        var page = await AtAsync(NeedKind.FitLock);
        await page.Keyboard.PressAsync("1");
        await page.Keyboard.PressAsync("2");
        await Expect(page.Locator(".entry-value")).ToHaveTextAsync("12");
        await page.Keyboard.DownAsync("Enter");
        await Task.Delay(1500);
        await page.Keyboard.UpAsync("Enter");
        await TabletRig.UntilTrueAsync(() => _rig.Job.Locks.Any(fitted => fitted.Number == "12"));

        await _rig.UntilAsync(NeedKind.OpenPoint);
        await Expect(page.Locator(".big-primary .big-label")).ToHaveTextAsync("Opened");
        await Task.Delay(500);
        await page.Keyboard.DownAsync("F9");
        await Task.Delay(1500);
        await page.Keyboard.UpAsync("F9");
        await TabletRig.UntilTrueAsync(() => _rig.Job.Points.Count == 2);

        await page.Keyboard.PressAsync("F8");
        await Expect(page.Locator(".alarm-words")).ToContainTextAsync("Hands off.");
        await Task.Delay(500);
        await page.Keyboard.PressAsync("Enter");
        await TabletRig.UntilTrueAsync(() => _rig.Job.Alarm is null);
    }

    [Fact]
    public async Task When_the_engine_hangs_the_cover_is_up_within_two_seconds_and_goes_when_it_turns_again()
    {
        var page = await AtAsync(NeedKind.Working);
        await Expect(page.Locator(".statement")).ToContainTextAsync("clear to work");
        await page.EvaluateAsync("() => { window.upAt = null; new MutationObserver(() => { window.upAt ??= performance.now(); }).observe(document.documentElement, { attributeFilter: ['data-link'] }); }");
        var hung = await page.EvaluateAsync<double>("() => performance.now()");
        _rig.Hang();

        await Expect(page.Locator(".cover")).ToBeVisibleAsync();
        var covered = await page.EvaluateAsync<double>("() => window.upAt");
        Assert.InRange(covered - hung, 0, 2000);
        await Expect(page.Locator(".screen")).ToBeHiddenAsync();
        await Expect(page.Locator(".statement")).ToHaveCountAsync(0);

        _rig.Recover();
        await Expect(page.Locator(".cover")).ToBeHiddenAsync();
        await Expect(page.Locator(".statement")).ToContainTextAsync("clear to work");
    }

    [Fact]
    public async Task A_restarted_server_is_covered_and_comes_back_without_anybody()
    {
        var page = await AtAsync(NeedKind.FitLock);
        var port = _rig.Port;
        await _rig.StopServingAsync();
        await Expect(page.Locator(".cover")).ToBeVisibleAsync();
        await Task.Delay(3000);
        await _rig.ServeAsync(port);

        await Expect(page.Locator(".cover")).ToBeHiddenAsync(new() { Timeout = 20_000 });
        await Expect(page.Locator(".entry-title")).ToHaveTextAsync("Lock number");
    }

    [Fact]
    public async Task Closing_the_browser_changes_nothing_in_the_job()
    {
        var page = await AtAsync(NeedKind.WaitOver);
        var before = (_rig.Job.Question, _rig.Job.Waits);
        await page.Context.CloseAsync();
        await Task.Delay(500);

        Assert.Equal(before, (_rig.Job.Question, _rig.Job.Waits));
    }

    private async Task<IPage> AtAsync(NeedKind kind)
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(kind);
        var page = await browser.OpenAsync(_rig);
        await Task.Delay(400);
        return page;
    }
}
