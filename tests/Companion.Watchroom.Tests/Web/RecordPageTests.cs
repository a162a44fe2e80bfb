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
        await Assertions.Expect(page.Locator(".record-link")).ToContainTextAsync("van 12");
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
        Assert.Equal("""{"read":1,"all":1,"unreadable":0}""", await page.EvaluateAsync<string>("fetch('/jobs/across/read').then(answer => answer.text())"));
        Assert.Contains("across/read", await page.EvaluateAsync<string>("fetch('/across.js').then(answer => answer.text())"), StringComparison.Ordinal);
        await browser.KeepAsync(page, "across");
        Assert.Empty((await page.RunAxe(Rules)).Violations.SelectMany(violation => violation.Nodes.Select(node => $"{violation.Id}: {node.Html}")));

        // What was found leads to its entry, on the timeline and in the replay.
        await page.ClickAsync(".found a");
        await Assertions.Expect(page.Locator(".chosen")).ToContainTextAsync("so dark here");
        var sequence = (await page.GetAttributeAsync(".chosen", "data-sequence"))!;
        await Assertions.Expect(page.Locator("[data-picture]")).ToHaveAttributeAsync("data-sequence", sequence);
    }

    // Went wrong: timeline and replay told each other of one choice for ever, took the focus away, and asked until the watch room refused.
    [Fact]
    public async Task The_timeline_is_driven_by_keys_alone_to_a_tenth_of_a_second_and_says_where_it_is()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var page = await OpenAsync(rig, tablet, 1280, 800);
        await page.FocusAsync(".line-box");
        Assert.NotEqual("none", await page.EvaluateAsync<string>("() => getComputedStyle(document.activeElement).outlineStyle"));
        await page.Keyboard.PressAsync("r");
        await Assertions.Expect(page.Locator("#line-says")).ToContainTextAsync("Refusal, entry");
        var chosen = (await page.GetAttributeAsync(".chosen", "data-sequence"))!;
        await Assertions.Expect(page.Locator("[data-picture]")).ToHaveAttributeAsync("data-sequence", chosen);

        for (var width = await WidthAsync(page); width > 100;)
        {
            await page.Keyboard.PressAsync("+");
            await page.WaitForFunctionAsync("width => { const { from, to } = document.getElementById('line').dataset; return to - from < width; }", width);
            width = await WidthAsync(page);
        }

        await Assertions.Expect(page.Locator("#line-says")).ToContainTextAsync("since the job's start");
        var from = await page.GetAttributeAsync("#line", "data-from");
        await page.Keyboard.PressAsync("ArrowRight");
        await page.WaitForFunctionAsync("from => document.getElementById('line').dataset.from !== from", from);
        Assert.Equal(chosen, await page.GetAttributeAsync("[data-picture]", "data-sequence"));
        Assert.True(await page.EvaluateAsync<bool>("() => document.activeElement.matches('.line-box')"));
    }

    [Fact]
    public async Task On_a_telephone_a_finger_draws_the_whole_picture_past_and_no_wait_is_without_words()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var page = await OpenAsync(rig, tablet, 390, 844);
        await page.Locator(".line-box").ScrollIntoViewIfNeededAsync();
        var box = (await page.Locator(".line-box").BoundingBoxAsync())!;
        var window = await page.GetAttributeAsync("#line", "data-from");
        for (var stroke = 0; stroke < 2; stroke++)
        {
            await page.Mouse.MoveAsync(box.X + box.Width - 20, box.Y + 40);
            await page.Mouse.DownAsync();
            await page.Mouse.MoveAsync(box.X + 20, box.Y + 40, new() { Steps = 8 });
            await page.Mouse.UpAsync();
        }

        Assert.True(await page.EvaluateAsync<bool>("() => { const box = document.querySelector('.line-box'); return box.scrollLeft + box.clientWidth >= box.scrollWidth - 1; }"));
        Assert.Equal(window, await page.GetAttributeAsync("#line", "data-from"));
        await Assertions.Expect(page.Locator(".entries-box + .entries td").Nth(1)).ToContainTextAsync("required");
        await Assertions.Expect(page.Locator(".entries-box + .entries td").Nth(1)).ToBeVisibleAsync();
        await browser.KeepAsync(page, "record-drawn");
    }

    [Theory]
    [InlineData("")]
    [InlineData("/comments")]
    [InlineData("/../../across")]
    public async Task By_night_a_page_that_looks_back_is_dark_and_as_readable(string place)
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var page = await OpenAsync(rig, tablet, 1280, 800);
        await page.GotoAsync($"{page.Url}{place}");
        var day = await GroundAsync(page);
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark });
        Assert.NotEqual(day, await GroundAsync(page));
        await browser.KeepAsync(page, $"night-{place.Length}");
        Assert.Empty((await page.RunAxe(Rules)).Violations.SelectMany(violation => violation.Nodes.Select(node => $"{violation.Id}: {node.Html}")));
        await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark, Media = Media.Print });
        Assert.Equal(day, await GroundAsync(page));
    }

    private static Task<string> GroundAsync(IPage page) => page.EvaluateAsync<string>("() => getComputedStyle(document.body).backgroundColor");

    private static Task<int> WidthAsync(IPage page) => page.EvaluateAsync<int>("() => { const { from, to } = document.getElementById('line').dataset; return to - from; }");

    private async Task<IPage> OpenAsync(WatchroomRig rig, FakeTablet tablet, int width, int height)
    {
        await SendAsync(rig, tablet);
        var page = await browser.SignInAsync(rig, width: width, height: height);
        await page.GotoAsync(new Uri(rig.App.Address, $"/jobs/{tablet.Device}/{BenchRecord.Job}").ToString());
        await page.WaitForSelectorAsync("[data-replay][data-ready=true]");
        return page;
    }

    private static async Task SendAsync(WatchroomRig rig, FakeTablet tablet)
    {
        var receipt = await rig.Services.Receiver.TakeAsync(tablet.Device, tablet.Tablet, BenchRecord.Lines(await BenchRecord.EventfulAsync(), tablet.Tablet));
        Assert.True(receipt.Outcome == ReceiptOutcome.Taken, receipt.Reason);
    }
}
