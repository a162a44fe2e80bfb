using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Engine.Ports;
using Companion.Tablet.Tests.Support;
using Companion.TestKit;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>I12: what opening the store found damaged is on every page, whole, until a person has answered.</summary>
public sealed class DamageShownTests(Browser browser) : IClassFixture<Browser>
{
    /// <summary>As long as the journal makes it, with two jobs and a long path.</summary>
    private const string Words = "The record was damaged on the disk. 1482 entries hold and were taken over. Entries may be missing from: tablet, "
        + "job-20260114-221507-3fa9, job-20260114-230144-90c2. The damaged files are kept untouched in "
        + "/home/companion/.local/share/companion/segment-0003: copy them for the team lead. "
        + "Treat every proof of this job as void and start its waits again.";

    private const string Cut = """
        () => [...document.querySelectorAll('.banner, .banner-text, .cuff-banner, .cuff-main')]
          .filter(e => e.scrollHeight > e.clientHeight + 1 || e.scrollWidth > e.clientWidth + 1 || e.getBoundingClientRect().bottom > innerHeight + 1)
          .map(e => e.className)
        """;

    [Fact]
    public async Task Damage_is_whole_on_the_start_page_and_on_both_cuffs()
    {
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal, new MemoryJournal(StoreKind.Rehearsal).Reopen(new StoreFinding(true, Words)));
        foreach (var (path, width, height) in new[] { ("/", 1280, 800), ("/cuff", 320, 320), ("/cuff", 240, 240) })
        {
            await WholeAsync(await browser.OpenAsync(rig, path, width, height), $"start {width}");
        }
    }

    [Fact]
    public async Task Damage_is_whole_beside_the_question_of_an_open_job_and_goes_with_the_first_answer()
    {
        var journal = new MemoryJournal();
        await using (var before = await TabletRig.StartAsync(journal: journal))
        {
            await before.OpenAsync();
            await before.UntilAsync(NeedKind.WaitOver);
        }

        await using var rig = await TabletRig.StartAsync(journal: journal.Reopen(new StoreFinding(true, Words)));
        rig.Engine.Post(new DeviceNotice("loudspeaker", false, "The loudspeaker is not available. Check that it is plugged in."));
        await TabletRig.UntilTrueAsync(() => rig.Job.Question?.Need.Kind == NeedKind.NothingTouched);
        var (page, cuff) = (await browser.OpenAsync(rig), await browser.OpenAsync(rig, "/cuff", 320, 320));
        await WholeAsync(page, "job");
        await WholeAsync(cuff, "job cuff");
        await Expect(page.Locator(".ask-words")).ToBeInViewportAsync(new() { Ratio = 1 });
        await Expect(page.Locator(".ask-code-digits")).ToHaveCountAsync(0);

        await page.TouchAsync("[data-press=primary]", 1500);
        foreach (var view in new[] { page, cuff })
        {
            await Expect(view.Locator(".banner-record")).ToHaveCountAsync(0);
        }
    }

    private static async Task WholeAsync(IPage page, string where)
    {
        await Expect(page.Locator(".banner-record")).ToContainTextAsync(Words);
        if (Environment.GetEnvironmentVariable("COMPANION_SCREENSHOTS") is { } folder)
        {
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{where}.png") });
        }

        Assert.Empty(await page.EvaluateAsync<string[]>(Cut));
    }
}
