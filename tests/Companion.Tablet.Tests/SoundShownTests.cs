using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Sound;
using Companion.Tablet.Tests.Support;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>That sound is recorded stands on every screen, and takes the place of nothing.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class SoundShownTests(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task It_stands_on_every_screen_from_the_start_on_with_days_and_name()
    {
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal, sound: new SoundPolicy(14, "Petra Ash"));
        var page = await browser.OpenAsync(rig);
        await Expect(page.Locator(".sound-told")).ToContainTextAsync("Sound is recorded from the sound check on, kept 14 days, by order of Petra Ash.");
        await Whole.AssertAsync(page, "sound start");
        await rig.OpenAsync();
        await Expect(page.Locator(".sound-told")).ToContainTextAsync("from the sound check on");
        await rig.UntilAsync(NeedKind.ProveTester);
        var cuff = await browser.OpenAsync(rig, "/cuff", 320, 320);
        await Expect(page.Locator(".sound-told")).ToContainTextAsync("Sound is recorded, kept 14 days, by order of Petra Ash.");
        await Expect(cuff.Locator(".cuff-sound")).ToContainTextAsync("Sound is recorded, kept 14 days");
        await Whole.AssertAsync(page, "sound keypad");
        Assert.True(await page.EvaluateAsync<bool>("() => { const told = document.querySelector('.sound-told'); return told.scrollHeight <= 22 && told.scrollWidth <= innerWidth; }"));
        await Whole.AssertAsync(cuff, "sound cuff");
        await rig.SayAsync(Phrase.Stop);
        await Expect(page.Locator(".alarm")).ToBeVisibleAsync();
        await Expect(page.Locator(".sound-told")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task Without_an_order_no_screen_speaks_of_it()
    {
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal);
        await rig.OpenAsync();
        var page = await browser.OpenAsync(rig);
        await Expect(page.Locator(".ask-words")).ToBeVisibleAsync();
        await Expect(page.Locator(".sound-told")).ToHaveCountAsync(0);
    }
}
