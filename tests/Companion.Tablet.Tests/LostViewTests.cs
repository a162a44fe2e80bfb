using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Tablet.Tests.Support;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>The only browser dies, or hangs with its last picture on the glass (I18): the job is told, aloud, and goes on by voice.</summary>
public sealed class LostViewTests : IAsyncLifetime
{
    private TabletRig _rig = null!;

    public async Task InitializeAsync()
    {
        _rig = await TabletRig.StartAsync(viewPatience: TimeSpan.FromSeconds(1));
        await _rig.OpenAsync();
        await _rig.UntilAsync(NeedKind.WaitOver);
    }

    public async Task DisposeAsync() => await _rig.DisposeAsync();

    [Fact]
    public async Task A_killed_browser_is_journalled_and_said_the_job_goes_on_by_voice_and_a_new_browser_shows_it()
    {
        await using var browser = await MortalBrowser.StartAsync();
        await browser.OpenAsync(_rig);
        await BackAsync();
        var lost = Lost();
        var called = 0;
        Companion.Tablet.Web.TabletWeb.WhenNoView(_rig.Web, () => called++);

        browser.Kill();
        await SaidAsync(lost);
        await TabletRig.UntilTrueAsync(() => called == 1);

        _rig.Speaker.Clear();
        _rig.Engine.Post(_rig.Ear.Inner.Hear("howlong", "how long", _rig.Clock.Now()));
        await TabletRig.UntilTrueAsync(() => _rig.Speaker.All.Any(prompt => prompt.Text.Contains("control", StringComparison.Ordinal)));

        await using var next = await MortalBrowser.StartAsync();
        var page = await next.OpenAsync(_rig);
        await BackAsync();
        await Expect(page.Locator(".screen")).ToHaveAttributeAsync("data-shown", $"{_rig.Job.Question!.Sequence}.{_rig.Job.Question.Since.Nanoseconds}");
        await Expect(page.Locator("[role=timer]").First).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_frozen_browser_is_no_view()
    {
        await using var browser = await MortalBrowser.StartAsync();
        await browser.OpenAsync(_rig);
        await BackAsync();
        var lost = Lost();

        browser.Freeze();
        await SaidAsync(lost);
    }

    private int Lost() => _rig.Entries.Count(entry => entry.Type == "view.lost");

    private Task BackAsync() => TabletRig.UntilTrueAsync(() => !_rig.Engine.Snapshot.Lost.ContainsKey("screen"));

    private async Task SaidAsync(int before)
    {
        await TabletRig.UntilTrueAsync(() => Lost() > before);
        await TabletRig.UntilTrueAsync(() => _rig.Engine.Snapshot.Lost.ContainsKey("screen"));
        await TabletRig.UntilTrueAsync(() => _rig.Speaker.Words.Contains("No screen shows the job.", StringComparison.Ordinal));
        Assert.Contains(_rig.Entries, entry => entry.Type == "device.lost" && entry.Data.Contains("screen", StringComparison.Ordinal));
    }
}
