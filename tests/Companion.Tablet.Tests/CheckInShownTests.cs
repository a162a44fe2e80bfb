using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Tablet.Tests.Support;
using Companion.TestKit;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>A check-in by touch, on whatever screen the technician is (I10).</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class CheckInShownTests(Browser browser) : IClassFixture<Browser>
{
    private const int Hold = 1600;

    [Fact]
    public async Task A_check_in_is_asked_for_over_the_keypad_and_made_by_a_held_key()
    {
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal, watch: DemoWatch.Even(2000, 120, 60));
        await rig.OpenAsync();
        var page = await browser.OpenAsync(rig);
        var cuff = await browser.OpenAsync(rig, "/cuff", 320, 320);
        await rig.UntilAsync(NeedKind.ProveTester);
        await Whole.AssertAsync(page, "the same without check-in");
        await PassToAsync(rig, CheckInStage.Asked);
        await Expect(page.Locator(".head-key-asked")).ToContainTextAsync("All right");
        await Whole.AssertAsync(page, "check-in asked over the keypad");
        await Whole.AssertAsync(cuff, "check-in asked cuff");

        await PassToAsync(rig, CheckInStage.Due);
        await Expect(cuff.Locator(".banner-checkin")).ToContainTextAsync("Check in now");
        await page.TouchAsync(".head-key[data-press='say:AllRight']");
        await Task.Delay(300);
        Assert.Equal(CheckInStage.Due, rig.Job.CheckIn!.Stage);
        await HoldUntilAsync(page, ".head-key[data-press='say:AllRight']", () => rig.Job.CheckIn!.Stage == CheckInStage.Quiet);
        await Expect(page.Locator(".head-key-asked")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task A_missed_check_in_stands_on_every_screen_until_the_big_key_is_held()
    {
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal, watch: DemoWatch.Even(600, 120, 60));
        await rig.OpenAsync();
        var page = await browser.OpenAsync(rig);
        await rig.UntilAsync(NeedKind.OpenPoint);
        await PassToAsync(rig, CheckInStage.Unanswered);
        await Expect(page.Locator(".banner-checkin")).ToContainTextAsync("Check-in missed");
        await Whole.AssertAsync(page, "check-in missed");
        await page.PanelAsync("people");
        await Whole.AssertAsync(page, "check-in missed with a panel");

        await page.PanelAsync("people", open: false);
        await HoldUntilAsync(page, ".check-in", () => rig.Job.CheckIn!.Stage == CheckInStage.Quiet);
        Assert.Contains(rig.Entries, entry => entry.Type == "checkin.made");
    }

    private static async Task HoldUntilAsync(Microsoft.Playwright.IPage page, string selector, Func<bool> done)
    {
        for (var attempt = 0; attempt < 5 && !done(); attempt++)
        {
            await Task.Delay(500);
            await page.TouchAsync(selector, Hold);
            await Task.Delay(500);
        }

        await TabletRig.UntilTrueAsync(done);
    }

    private static async Task PassToAsync(TabletRig rig, CheckInStage stage)
    {
        while (rig.Job.CheckIn!.Stage < stage)
        {
            await rig.PassAsync(10);
        }
    }
}
