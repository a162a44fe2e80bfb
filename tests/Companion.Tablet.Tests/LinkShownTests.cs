using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Screens.Showing;
using Companion.Tablet.Tests.Support;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>How the link to the watch room stands, on the screen.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class LinkShownTests(Browser browser) : IClassFixture<Browser>
{
    private static readonly LinkStanding Waits = new() { Waiting = 412, Bytes = 180_000, Since = DateTimeOffset.UtcNow.AddMinutes(-20) };

    private static readonly LinkStanding Refuses = Waits with
    {
        Trouble = "job-7: Entry 3 is held with other content.",
        Refused = [new RefusedRecord("job-20261126-143205-1f3c", "Entry 3 of this record is held here with other content. Somebody must look.")],
    };

    [Fact]
    public async Task The_start_screen_and_the_report_panel_tell_what_waits_quietly_and_what_is_refused_plainly()
    {
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal);
        var page = await browser.OpenAsync(rig);
        await Expect(page.Locator(".link-line")).ToHaveCountAsync(0);
        rig.Link = Waits;
        await Expect(page.Locator(".link-line")).ToContainTextAsync("412 entries, about 180 kB, wait to be sent");
        await Whole.AssertAsync(page, "link waits, start");

        await rig.OpenAsync();
        await rig.UntilAsync(NeedKind.OpenPoint);
        await page.PanelAsync("changed");
        await Expect(page.Locator(".panel .link-line")).ToContainTextAsync("412 entries");
        await Expect(page.Locator(".link-todo")).ToHaveCountAsync(0);
        await Whole.AssertAsync(page, "link waits, report");

        rig.Link = Refuses;
        await Expect(page.Locator(".link-todo")).ToContainTextAsync("Call the team lead.");
        await Whole.AssertAsync(page, "link refused, report");
        foreach (var key in await page.Locator(".panel .choice").AllAsync())
        {
            Assert.True((await key.BoundingBoxAsync())!.Height >= 111, await key.InnerTextAsync());
        }
    }
}
