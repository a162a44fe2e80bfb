using Companion.Tablet.Tests.Support;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>I18: the app itself, its own watchdog and a browser, each a process: killed, and started again.</summary>
public sealed class StoppedAppTests(Browser browser) : IClassFixture<Browser>, IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("companion-stopped-").FullName;

    private readonly string _store = MemoryFolder.New("companion-stopped-");

    public void Dispose()
    {
        Directory.Delete(_folder, recursive: true);
        Directory.Delete(_store, recursive: true);
    }

    [Fact]
    public async Task A_watchdog_that_dies_is_replaced_and_one_that_outlives_its_app_sounds_until_the_app_is_started_again()
    {
        int left;
        using (var app = new TabletProcess(_folder, _store))
        {
            await app.AddressAsync();
            await TabletRig.UntilTrueAsync(() => app.Watchdog is not null);
            var first = app.Watchdog!.Value;
            Signals.Send("KILL", first);
            await TabletRig.UntilTrueAsync(() => app.Watchdog is { } next && next != first && TabletProcess.IsRunning(next));
            left = app.Watchdog!.Value;

            app.Kill();
            var killed = DateTimeOffset.UtcNow.ToUnixTimeMilliseconds();
            await TabletRig.UntilTrueAsync(() => app.Alarms.Any(alarm => alarm > killed));
            Assert.True(TabletProcess.IsRunning(left));

            using var again = new TabletProcess(_folder, _store);
            await again.AddressAsync();
            await TabletRig.UntilTrueAsync(() => !TabletProcess.IsRunning(left) && again.Watchdog is { } now && now != left);
        }
    }

    // Nobody in gloves can open a browser.
    [Fact]
    public async Task A_window_that_shows_nothing_of_an_open_job_is_ended_and_opened_anew()
    {
        using var app = new TabletProcess(_folder, _store, display: true);
        var page = await browser.OpenAsync(await app.AddressAsync());
        await TabletRig.UntilTrueAsync(() => app.Windows.Count == 1);
        Assert.Equal($"--app={await app.AddressAsync()}", app.Windows[0].Argument);
        await OpenJobAsync(page);
        Assert.Single(app.Windows);

        await page.Context.CloseAsync();
        await TabletRig.UntilTrueAsync(() => app.Windows.Count == 2);
        Assert.False(TabletProcess.IsRunning(app.Windows[0].Process));
        Assert.True(TabletProcess.IsRunning(app.Windows[1].Process));
    }

    private static async Task OpenJobAsync(IPage page)
    {
        await page.TouchAsync("[data-press='technician:maren']");
        await page.TouchAsync("[data-press='secondperson:della']");
        await page.TouchAsync("[data-press='kit:standard']");
        await Expect(page.Locator("[data-press=open]")).Not.ToHaveAttributeAsync("aria-disabled", "true");
        // On a busy machine the page may be covered just when it is touched.
        var attempts = 0;
        do
        {
            await page.TouchAsync("[data-press=open]", 1500);
        }
        while (++attempts < 5 && !await page.IsSeenAsync(".ask-words"));

        await Expect(page.Locator(".ask-words")).ToContainTextAsync("Sound check.");
    }
}
