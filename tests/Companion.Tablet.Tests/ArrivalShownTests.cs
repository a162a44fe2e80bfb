using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Sheets;
using Companion.Tablet.Cli;
using Companion.Tablet.Tests.Support;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>The minutes before anyone touches the vehicle, on the screen, with the operator's own list.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class ArrivalShownTests(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task A_job_is_opened_with_its_place_and_led_through_the_arrival_by_touch_to_a_stand_off()
    {
        var list = ArrivalReader.ReadFile(Path.Combine(Places.Data, "arrival.yaml")).List!;
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal, arrival: list);
        var page = await browser.OpenAsync(rig);
        var cuff = await browser.OpenAsync(rig, "/cuff", 320, 320);
        await Task.Delay(500);
        await page.Locator(".place").FillAsync("Quarry road, marker 7");
        await page.TouchAsync("[data-press='technician:maren']");
        await page.TouchAsync("[data-press='secondperson:della']");
        await page.TouchAsync("[data-press='kit:standard']");
        await Whole.AssertAsync(page, "arrival start");
        await page.TouchAsync("[data-press=open]", 1600);
        await Expect(page.Locator(".ask-words")).ToContainTextAsync("Sound check");
        Assert.Equal("Quarry road, marker 7", rig.Job.Place);

        await rig.UntilAsync(NeedKind.SceneReadBack);
        await Expect(page.Locator(".ask-words")).ToContainTextAsync("No to: fire or smoke");
        await Whole.AssertAsync(page, "arrival read back");
        await Whole.AssertAsync(cuff, "arrival read back cuff");
        await rig.SayAsync(Phrase.Wrong);
        await rig.UntilAsync(NeedKind.SceneQuestion);
        await Expect(page.Locator("[data-press=primary]")).ToContainTextAsync("No");
        await Whole.AssertAsync(page, "arrival question");
        await page.PanelAsync("changed");
        await Whole.AssertAsync(page, "arrival changed");
        await page.PanelAsync("changed", open: false);
        await page.TouchAsync("[data-press=second]");
        await Expect(page.Locator(".alarm")).ToContainTextAsync("Leave now");
        await Task.Delay(500);
        await page.TouchAsync("[data-press=primary]");
        await Expect(page.Locator(".ask-words")).ToContainTextAsync("Stand-off. Keep 16 metres clear");
        await Whole.AssertAsync(page, "stand-off");
        await Whole.AssertAsync(cuff, "stand-off cuff");
        await Task.Delay(500);
        await page.TouchAsync("[data-press='key:2']");
        await page.TouchAsync("[data-press='key:4']");
        await page.TouchAsync("[data-press=primary]");
        await TabletRig.UntilTrueAsync(() => rig.Job.StandOff!.Heat.Length == 1);
    }
}
