using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Isolation;
using Companion.Tablet.Tests.Support;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>Another person joins, and the vehicle is put back, all by touch.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class WayBackShownTests(Browser browser) : IClassFixture<Browser>
{
    private const int Hold = 1600;

    [Fact]
    public async Task Somebody_joins_on_the_panel_for_people_and_the_vehicle_is_put_back_and_handed_over()
    {
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal);
        await rig.OpenAsync();
        await rig.UntilAsync(NeedKind.CountTools);
        var page = await browser.OpenAsync(rig);
        var cuff = await browser.OpenAsync(rig, "/cuff", 320, 320);
        await Whole.AssertAsync(page, "tools");

        await page.PanelAsync("people");
        await page.TouchAsync("[data-press='key:1']");
        await page.TouchAsync("[data-press='key:2']");
        await Expect(page.Locator(".panel .entry-value")).ToHaveTextAsync("12");
        await Whole.AssertAsync(page, "people");
        await page.TouchAsync("[data-press='say:PersonJoins']");
        await Expect(page.Locator(".ask-words")).ToContainTextAsync("Person one two joins the work");
        await Task.Delay(500);
        await page.TouchAsync("[data-press=primary]", Hold);
        await TabletRig.UntilTrueAsync(() => rig.Job.Workers.Contains("12"));
        await rig.UntilAsync(NeedKind.FitLock);
        await Expect(page.Locator(".ask-words")).ToContainTextAsync("Crew number one two");
        await Whole.AssertAsync(page, "own lock");

        await rig.UntilAsync(NeedKind.Working);
        await Expect(page.Locator(".ask-words")).ToContainTextAsync("done work");
        await Whole.AssertAsync(page, "working");
        await Whole.AssertAsync(cuff, "working cuff");
        await page.PanelAsync("handover");
        await Expect(page.Locator(".handover")).ToContainTextAsync("The battery is not de-energised.");
        await Whole.AssertAsync(page, "hand-over");
        await page.PanelAsync("handover", open: false);
        await page.TouchAsync("[data-press=second]", Hold);
        await TabletRig.UntilTrueAsync(() => rig.Job.PuttingBack);

        foreach (var kind in new[] { NeedKind.EverybodyAway, NeedKind.Uncover, NeedKind.RemoveLock, NeedKind.ClosePoint, NeedKind.PutBack })
        {
            await rig.UntilAsync(kind);
            await TabletRig.UntilTrueAsync(() => page.InnerTextAsync(".ask-words").Result == Companion.Domain.Speaking.Wording.Ask(rig.Job, rig.Job.Question!));
            await Whole.AssertAsync(page, $"way back {kind}");
            await Whole.AssertAsync(cuff, $"way back {kind} cuff");
        }

        Assert.Empty(rig.Job.Locks);
        await Task.Delay(500);
        await page.TouchAsync("[data-press=primary]", Hold);
        await Expect(page.Locator(".ended")).ToContainTextAsync("The job has ended.");
        await page.PanelAsync("handover");
        await Expect(page.Locator(".handover")).ToContainTextAsync("Put back: every lock is removed and every point closed.");
        await Whole.AssertAsync(page, "hand-over after the end");
        await page.PanelAsync("handover", open: false);
        await Expect(page.Locator("[data-press=sameevent]")).ToBeVisibleAsync();
        await Task.Delay(500);
        await page.TouchAsync("[data-press=sameevent]");
        await Expect(page.Locator("[data-press=sameevent]")).ToHaveAttributeAsync("aria-pressed", "true");
        await Whole.AssertAsync(page, "ended");
    }
}
