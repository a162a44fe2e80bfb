using Companion.Tablet.Tests.Support;
using static Microsoft.Playwright.Assertions;

namespace Companion.EndToEnd.Tests;

/// <summary>The published app where there is no sound system at all: it says so, records it, and the job goes on by touch.</summary>
[Collection(PublishedApp.OneAtATime)]
public sealed class SilentTabletTests : IDisposable
{
    private readonly string _folder = MemoryFolder.New("companion-silent-");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public async Task Without_microphone_and_loudspeaker_the_screen_says_so_and_the_job_goes_on_by_touch()
    {
        await using var screen = await JobScreenPage.LaunchAsync();
        await using var app = new PublishedApp(_folder, $"unix:{_folder}/nobody-listens-here");

        var page = await screen.OpenJobAsync(await app.AddressAsync());
        await Expect(page.Locator("body")).ToContainTextAsync("microphone", new() { IgnoreCase = true, Timeout = 15_000 });
        await Expect(page.Locator("body")).ToContainTextAsync("loudspeaker", new() { IgnoreCase = true, Timeout = 15_000 });
        var attempts = 0;
        do
        {
            await page.TouchAsync("[data-press=primary]", 1600);
        }
        while (++attempts < 5 && !await page.IsSeenAsync(".ask-words:has-text('beacons')"));

        await JobScreenPage.ArriveAsync(page);
        attempts = 0;
        do
        {
            // A hold that begins in the grace after a new question counts for nothing, as it must.
            await page.TouchAsync("[data-press=primary]", 1600);
        }
        while (++attempts < 5 && !await page.IsSeenAsync(".ask-words:has-text('maker')"));

        await Expect(page.Locator(".ask-words")).ToContainTextAsync("maker's marking");
        var lost = LiveJournal.Entries(app.Store).Where(entry => entry.Type == "device.lost").Select(entry => entry.Data).ToList();
        Assert.Contains(lost, data => data.Contains("microphone", StringComparison.Ordinal));
        Assert.Contains(lost, data => data.Contains("loudspeaker", StringComparison.Ordinal));
    }
}
