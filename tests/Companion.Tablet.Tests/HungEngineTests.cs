using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Tablet.Tests.Support;
using Companion.Tablet.Watchdog;
using Companion.Tablet.Web;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>I18: the loop's own thread stands in something that does not return. Outside it is heard, and every page says so.</summary>
public sealed class HungEngineTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    private const string CoveredAt =
        "() => { window.downAt = null; new MutationObserver(() => { window.downAt ??= Date.now(); }).observe(document.documentElement, { attributeFilter: ['data-link'] }); }";

    private readonly Valve _handler = new();
    private readonly HeardAlarm _alarm = new();
    private readonly StringWriter _error = new();
    private readonly CancellationTokenSource _end = new();
    private TabletRig _rig = null!;
    private Task _watching = Task.CompletedTask;

    public async Task InitializeAsync()
    {
        _rig = await TabletRig.StartAsync();
        _rig.Engine.Changed += _ => _handler.Pass();
    }

    public async Task DisposeAsync()
    {
        Release();
        await _end.CancelAsync();
        await _watching;
        await _rig.DisposeAsync();
        _end.Dispose();
    }

    [Theory]
    [InlineData("ear")]
    [InlineData("handler")]
    public async Task A_loop_that_stands_in_a_port_is_heard_outside(string port)
    {
        await _rig.OpenAsync();
        Watch();
        await Task.Delay(600);
        var hung = DateTimeOffset.UtcNow;
        Hang(port);
        await TabletRig.UntilTrueAsync(() => _alarm.Sounded > 0);
        Assert.InRange((_alarm.First - hung).TotalSeconds, 0, TabletRig.SecondsToNotice);

        Release();
        await TabletRig.UntilTrueAsync(() => _alarm.Silenced > 0);
    }

    [Theory]
    [InlineData("speaker", NeedKind.Working)]
    [InlineData("catalogue", NeedKind.ChooseSheet)]
    public async Task A_port_that_never_returns_is_heard_outside_and_covers_every_page(string port, NeedKind at)
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(at);
        var pages = await Task.WhenAll(browser.OpenAsync(_rig), browser.OpenAsync(_rig, "/cuff", 320, 320));
        await Task.WhenAll(pages.Select(page => page.EvaluateAsync(CoveredAt)));
        Watch();
        await Task.Delay(500);
        var (question, points) = (_rig.Job.Question, _rig.Job.Points);

        var hung = DateTimeOffset.UtcNow;
        Hang(port);
        await pages[0].TouchAsync("[data-press=primary]", 1300);
        await TabletRig.UntilTrueAsync(() => _alarm.Sounded > 0);
        Assert.InRange((_alarm.First - hung).TotalSeconds, 0, TabletRig.SecondsToNotice);
        foreach (var page in pages)
        {
            await Expect(page.Locator(".cover")).ToBeVisibleAsync();
            Assert.InRange(await page.EvaluateAsync<double>("() => window.downAt") - hung.ToUnixTimeMilliseconds(), 0, 1000 * TabletRig.SecondsToNotice);
            await Expect(page.Locator(".screen, .cuff")).ToBeHiddenAsync();
        }

        await pages[0].TouchAsync("body", 1300);
        Release();
        foreach (var page in pages)
        {
            await Expect(page.Locator(".cover")).ToBeHiddenAsync();
        }

        await TabletRig.UntilTrueAsync(() => _alarm.Silenced > 0);
        Assert.Equal((question!.Need, question.Sequence, points), (_rig.Job.Question!.Need, _rig.Job.Question.Sequence, _rig.Job.Points));
        Assert.Null(_rig.Job.Question.Echo);
        await StandsUntilAnsweredAsync(pages[0]);
    }

    // I19: who looked away while the alarm sounded must still find it.
    private async Task StandsUntilAnsweredAsync(IPage page)
    {
        await Expect(page.Locator(".banner-device")).ToContainTextAsync("an alarm sounded");
        Assert.Contains("The Companion stood still for", _rig.Speaker.Words, StringComparison.Ordinal);
        Assert.Contains(_rig.Entries, entry => entry.Type == "device.lost" && entry.Data.Contains("companion", StringComparison.Ordinal));

        await _rig.SayAsync(Phrase.HowLong);
        await Expect(page.Locator(".banner-device")).ToHaveCountAsync(0);
        Assert.Contains(_rig.Entries, entry => entry.Type == "device.returned");
    }

    private void Hang(string port)
    {
        var provoke = new Answer { Question = _rig.Job.Question!.Sequence, Began = _rig.Clock.Now(), By = By.Voice, Phrase = Phrase.SayAgain };
        switch (port)
        {
            case "speaker":
                _rig.SpeakerValve.Close();
                break;
            case "ear":
                _rig.EarValve.Close();
                break;
            case "handler":
                _handler.Close();
                break;
            default:
                _rig.CatalogueValve.Close();
                provoke = provoke with { Phrase = Phrase.Sheet, Number = "99" };
                break;
        }

        _rig.Engine.Post(provoke);
    }

    private void Release()
    {
        foreach (var valve in new[] { _handler, _rig.SpeakerValve, _rig.EarValve, _rig.CatalogueValve })
        {
            valve.Open();
        }
    }

    private void Watch()
    {
        var dog = new EngineWatchdog(new WatchdogOptions(TabletWeb.BeatAddress(_rig.Web), _rig.Token, null), _alarm, _error, TimeProvider.System);
        _watching = Task.Run(() => dog.RunAsync(_end.Token));
    }
}
