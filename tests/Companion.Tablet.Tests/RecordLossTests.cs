using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Journal;
using Companion.Tablet.Tests.Support;
using Companion.TestKit;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>I7, I12, I16: the record is lost in the middle of a job, seen through the whole app.</summary>
public sealed class RecordLossTests(Browser browser) : IClassFixture<Browser>, IDisposable
{
    private readonly string _folder = MemoryFolder.New("companion-loss-");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData("No space left on device")]
    [InlineData("Read-only file system")]
    public async Task A_disk_that_fills_up_or_goes_read_only_is_said_and_shown_and_the_job_goes_on_once_it_is_mended(string fault)
    {
        var disk = new FailingDisk();
        IReadOnlyList<JournalEntry> acknowledged;
        await using (var store = await OpenAsync(disk))
        await using (var rig = await TabletRig.StartAsync(journal: store))
        {
            await rig.OpenAsync();
            await rig.UntilAsync(NeedKind.TakeReading, 4);
            Assert.Single(rig.Job.Proofs);
            var pages = await PagesAsync(rig);
            acknowledged = rig.Entries;
            disk.Fault = new IOException(fault);

            rig.Engine.Post(Anything(rig));
            await ShownAsync(rig, pages);
            Assert.Contains(rig.Speaker.Alarms, alarm => alarm.StartsWith("Not recording.", StringComparison.Ordinal));
            await WarningsStillSoundAsync(rig, pages[0]);
        }

        disk.Fault = null;
        await using var mended = await OpenAsync(disk);
        await using var again = await TabletRig.StartAsync(journal: mended);
        await TabletRig.UntilTrueAsync(() => again.Job is { Doubt: true, Question.Need.Kind: NeedKind.NothingTouched });
        Assert.Equal(acknowledged.Select(entry => entry.Hash), again.Entries.Take(acknowledged.Count).Select(entry => entry.Hash));
        Assert.Empty(again.Job.Proofs);
        await again.UntilAsync(NeedKind.ProveTester);
        Assert.NotEmpty(again.Job.Points);
    }

    // A disk that neither takes nor refuses.
    [Fact]
    public async Task An_append_that_never_ends_is_said_and_shown_within_three_seconds()
    {
        var journal = new MemoryJournal();
        await using var rig = await TabletRig.StartAsync(journal: journal);
        await rig.OpenAsync();
        await rig.UntilAsync(NeedKind.Working);
        var pages = await PagesAsync(rig);
        await Expect(pages[0].Locator(".statement")).ToContainTextAsync("clear to work");
        var entries = journal.All.Count;
        journal.Hold();

        var since = TimeProvider.System.GetTimestamp();
        rig.Engine.Post(Anything(rig));
        await TabletRig.UntilTrueAsync(() => rig.Speaker.Alarms.Any(alarm => alarm.StartsWith("Not recording.", StringComparison.Ordinal)));
        Assert.InRange(TimeProvider.System.GetElapsedTime(since).TotalSeconds, 1.9, 3.0);
        await ShownAsync(rig, pages);
        await Expect(pages[0].Locator(".statement")).ToHaveCountAsync(0);
        await WarningsStillSoundAsync(rig, pages[0]);
        Assert.Equal(entries, journal.All.Count);
        journal.Release();
    }

    /// <summary>Any answer that is to be journalled.</summary>
    private static Companion.Domain.Deciding.Answer Anything(TabletRig rig) => new()
    {
        Question = rig.Job.Question!.Sequence,
        Began = rig.Clock.Now(),
        By = By.Touch,
        Phrase = Phrase.HowLong,
    };

    private async Task<IPage[]> PagesAsync(TabletRig rig) =>
        await Task.WhenAll(browser.OpenAsync(rig), browser.OpenAsync(rig, "/cuff", 320, 320));

    private static async Task ShownAsync(TabletRig rig, IPage[] pages)
    {
        await Expect(pages[0].Locator(".alarm-words")).ToContainTextAsync("Not recording");
        await Expect(pages[1].Locator(".cuff-banner")).ToContainTextAsync("Not recording");
        Assert.False(rig.Engine.Snapshot.Recording);
        Assert.Empty(rig.Job.Proofs);
        Assert.Null(rig.Job.Clearance);
        foreach (var page in pages)
        {
            await Expect(page.Locator("[role=timer]")).ToHaveCountAsync(0);
            await Expect(page.Locator("html[data-link=up]")).ToHaveCountAsync(1);
        }
    }

    private static async Task WarningsStillSoundAsync(TabletRig rig, IPage page)
    {
        rig.Speaker.Clear();
        await page.TouchAsync("[data-press=primary]", 1500);
        await page.TouchAsync("[data-press=third]");
        await TabletRig.UntilTrueAsync(() => rig.Speaker.Alarms.Any(alarm => alarm.StartsWith("Stop. Hands off.", StringComparison.Ordinal)));
        Assert.Empty(rig.Job.Proofs);
        Assert.DoesNotContain("Recorded", rig.Speaker.Words, StringComparison.Ordinal);
    }

    private Task<JournalStore> OpenAsync(FailingDisk disk) => JournalStore.OpenAsync(
        _folder, new StoreOptions(new Companion.Tablet.Clocks.TabletClock()) { Kind = StoreKind.Real, Disk = disk });
}
