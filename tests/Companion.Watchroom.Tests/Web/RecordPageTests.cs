using Companion.Review;
using Companion.TestKit;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Web;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Companion.Watchroom.Tests.Web;

/// <summary>The pages that look back, in a real browser, over a job that the real loop recorded.</summary>
public sealed class RecordPageTests(BoardBrowser browser) : IClassFixture<BoardBrowser>
{
    private static readonly AxeRunOptions Rules = new()
    {
        ResultTypes = [ResultType.Violations],
        RunOnly = new RunOnlyOptions { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] },
    };

    [Theory]
    [InlineData(1280, 800)]
    [InlineData(390, 844)]
    public async Task A_team_lead_sees_what_went_wrong_and_the_replay_follows_the_timeline(int width, int height)
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await SendAsync(rig, tablet);
        var page = await browser.SignInAsync(rig, width: width, height: height);

        await page.GotoAsync(new Uri(rig.App.Address, "/jobs").ToString());
        await browser.KeepAsync(page, $"jobs-{width}");
        await page.ClickAsync($"a[href$='{BenchRecord.Job}']");
        await Assertions.Expect(page.Locator(".grave li").First).ToBeVisibleAsync();
        await browser.KeepAsync(page, $"record-{width}");
        Assert.Empty((await page.RunAxe(Rules)).Violations.SelectMany(violation => violation.Nodes.Select(node => $"{violation.Id}: {node.Html}")));

        // The replay's picture stands at the first entry; a moment chosen on the timeline moves it.
        var before = await page.InnerTextAsync("[data-stage]");
        await page.ClickAsync(".grave li a >> nth=0");
        await page.WaitForFunctionAsync("before => document.querySelector('[data-stage]').innerText !== before", before);
        await browser.KeepAsync(page, $"record-chosen-{width}");

        var entries = rig.Services.Journal.Store.Read("audit");
        Assert.Contains(entries, entry => entry.Type == "job.looked");
    }

    // Damage at the very end of what is held breaks no link: only the bytes tell it.
    [Fact]
    public async Task Damage_behind_the_last_line_that_is_held_is_told_with_the_record()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await SendAsync(rig, tablet);
        var records = new ReceivedRecords(rig.Services.Devices, rig.Services.Receiver, checksEnds: true);
        var name = new RecordName(tablet.Device, BenchRecord.Job);
        var whole = records.Open(name)!;
        Assert.Empty(whole.Troubles);

        await File.AppendAllTextAsync(Directory.GetFiles(rig.Store, "*.chain", SearchOption.AllDirectories).Single(), "what is this");

        var damaged = records.Open(name)!;
        Assert.Equal(whole.Entries.Length, damaged.Entries.Length);
        var trouble = Assert.Single(damaged.Troubles);
        Assert.Equal(TroubleKind.Damaged, trouble.Kind);
        Assert.Contains("12 bytes", trouble.Words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Many_jobs_are_counted_and_searched_on_one_page()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await SendAsync(rig, tablet);
        var page = await browser.SignInAsync(rig);
        await page.GotoAsync(new Uri(rig.App.Address, "/jobs/across?words=dark").ToString());
        await Assertions.Expect(page.Locator("main")).ToContainTextAsync("so dark here");
        Assert.Equal("""{"read":1,"all":1}""", await page.EvaluateAsync<string>("fetch('/jobs/across/read').then(answer => answer.text())"));
        Assert.Contains("across/read", await page.EvaluateAsync<string>("fetch('/across.js').then(answer => answer.text())"), StringComparison.Ordinal);
        await browser.KeepAsync(page, "across");
        Assert.Empty((await page.RunAxe(Rules)).Violations.SelectMany(violation => violation.Nodes.Select(node => $"{violation.Id}: {node.Html}")));
    }

    private static async Task SendAsync(WatchroomRig rig, FakeTablet tablet)
    {
        var receipt = await rig.Services.Receiver.TakeAsync(tablet.Device, tablet.Tablet, BenchRecord.Lines(await BenchRecord.EventfulAsync(), tablet.Tablet));
        Assert.True(receipt.Outcome == ReceiptOutcome.Taken, receipt.Reason);
    }
}
