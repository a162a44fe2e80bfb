using Companion.Contracts.Uplink;
using Companion.Watchroom.Telling;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Tests.Telling;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Companion.Watchroom.Tests.Web;

/// <summary>The board in a real browser.</summary>
public sealed class BoardTests(BoardBrowser browser) : IClassFixture<BoardBrowser>
{
    private static readonly AxeRunOptions Rules = new()
    {
        ResultTypes = [ResultType.Violations],
        RunOnly = new RunOnlyOptions { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] },
    };

    [Fact]
    public async Task An_alert_appears_by_itself_sounds_and_is_taken_with_a_note()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var page = await browser.SignInAsync(rig);
        Assert.Equal("false", await page.GetAttributeAsync("#sound", "data-on"));
        await page.ClickAsync("#sound-key");
        await page.WaitForSelectorAsync("#sound[data-on=true]");

        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await page.WaitForSelectorAsync("html[data-alarm=alert]");
        await page.WaitForFunctionAsync("() => window.sounded > 3");
        await Assertions.Expect(page.Locator(".alert-open")).ToContainTextAsync("Call for help: Maren Oake");

        // What is being typed stays, although the board changes meanwhile.
        await page.FillAsync(".alert-open input[name=note]", "I ring her now");
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help) with { Phase = "exposed" });
        await Assertions.Expect(page.Locator(".watch")).ToContainTextAsync("exposed");
        Assert.Equal("I ring her now", await page.InputValueAsync(".alert-open input[name=note]"));

        await page.ClickAsync(".alert-open button");
        await Assertions.Expect(page.Locator(".alert-taken")).ToContainTextAsync("Taken by Runa Holt");
        await Assertions.Expect(page.Locator(".alert-taken")).ToContainTextAsync("I ring her now");
        await page.WaitForSelectorAsync("html[data-alarm=none]");
        Assert.Equal("true", await page.GetAttributeAsync("#sound", "data-on"));
        Assert.Equal("I ring her now", rig.App.Keeper.View.Alerts[0].Taken!.Note);
    }

    // Went wrong: while something lay on the touch screen, or a button was held, no alert was shown and nothing sounded.
    [Fact]
    public async Task An_alert_is_shown_although_somebody_keeps_pressing_on_the_page()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var page = await browser.SignInAsync(rig);
        await page.WaitForSelectorAsync("html[data-alarm=none]");
        await page.Mouse.MoveAsync(20, 700);
        await page.Mouse.DownAsync();
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await page.WaitForSelectorAsync("html[data-alarm=alert]");
        await page.Mouse.UpAsync();
    }

    // Went wrong: a board that was asked for and never came kept the page quiet, as long as the feed went on.
    [Fact]
    public async Task A_board_that_does_not_come_is_no_word()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var page = await browser.SignInAsync(rig);
        await page.WaitForSelectorAsync("html[data-alarm=none]");
        await page.RouteAsync("**/board", _ => Task.CompletedTask);
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await page.WaitForSelectorAsync("html[data-alarm=noword]");
    }

    [Fact]
    public async Task The_page_alarms_when_its_feed_stops_and_goes_on_when_the_watch_room_is_back()
    {
        await using var rig = await WatchroomRig.StartAsync();
        var page = await browser.SignInAsync(rig);
        await page.ClickAsync("#sound-key");
        await page.WaitForSelectorAsync("html[data-alarm=none]");
        var port = rig.App.Address.Port;

        await rig.App.DisposeAsync();
        await page.WaitForSelectorAsync("html[data-alarm=noword]");
        await Assertions.Expect(page.Locator("#noword")).ToContainTextAsync("This page has no word from the watch room");
        await page.WaitForFunctionAsync("() => window.sounded > 1");
        await browser.KeepAsync(page, "no-word");

        // It was blind meanwhile: that calls until somebody notes it.
        await rig.StartAgainAsync(port);
        await page.WaitForSelectorAsync("html[data-alarm=trouble]");
        await Assertions.Expect(page.Locator("#noword")).ToBeHiddenAsync();
        await Assertions.Expect(page.Locator("article.problem")).ToContainTextAsync("The watch room was blind from ");
        await page.ClickAsync("text=I take note of this trouble");
        await page.WaitForSelectorAsync("html[data-alarm=none]");
        await Assertions.Expect(page.Locator("article.problem")).ToHaveCountAsync(0);
    }

    [Theory]
    [InlineData(1280, 800)]
    [InlineData(390, 844)]
    public async Task Every_page_can_be_read_by_all_and_fits(int width, int height)
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var one = await rig.PairAsync();
        using var two = await rig.PairAsync("van 13");
        using var three = await rig.PairAsync("van 14");
        await one.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await two.BeatAsync(FakeTablet.Calling(CallKind.Quiet, "job-8") with { Technician = "Tobin Rusk", Recording = false });
        await three.BeatAsync(FakeTablet.Calling(CallKind.Warning, "job-9", rehearsal: true) with { Technician = "Ifeoma Strand", Where = null, Place = null, CheckIn = null });
        Assert.True(await rig.App.Keeper.TakeAsync(rig.App.Keeper.View.Alerts.Single(alert => alert.Device == one.Device).Id, "Runa Holt", "I ring her now"));

        var page = await browser.SignInAsync(rig, "Petra Ash", width, height);
        await page.WaitForSelectorAsync(".alert-open");
        await CheckAsync(page, $"board-{width}");
        await page.ClickAsync(".watch summary >> nth=0");
        await CheckAsync(page, $"board-end-{width}");
        await page.ClickAsync("a[href='/devices']");
        await page.ClickAsync("text=Make a new code");
        await page.WaitForSelectorAsync(".code");
        await CheckAsync(page, $"tablets-{width}");
        await page.ClickAsync("a[href='/personal']");
        await page.WaitForSelectorAsync("input[name=reason]");
        await CheckAsync(page, $"personal-{width}");
        await page.ClickAsync("text=Sign out");
        await page.WaitForSelectorAsync("input[type=password]");
        await CheckAsync(page, $"signin-{width}");
    }

    // Nobody is out, and still the next one to go out would not be watched well: signing in is enough to find it.
    [Theory]
    [InlineData(1280, 800)]
    [InlineData(390, 844)]
    public async Task A_watch_room_that_fails_says_so_and_who_was_told_of_it(int width, int height)
    {
        using var disk = new FailingDisk();
        await using var mail = new MailReceiver();
        await using var rig = await WatchroomRig.StartAsync(
            disk, (RingRound.MailFile, mail.Config), (RingRound.TargetsFile, """[{"name":"desk","channel":"email","address":"desk@example.invalid","aftersec":0}]"""));
        disk.Break();

        var page = await browser.SignInAsync(rig, width: width, height: height);
        await Assertions.Expect(page.Locator("article.problem").First).ToContainTextAsync("The watch room itself fails");
        await Assertions.Expect(page.Locator("article.problem").First).ToContainTextAsync("desk by e-mail: told at ");
        Assert.Contains("Nobody to be rung is out", Assert.Single(mail.Messages).TextBody!, StringComparison.Ordinal);
        await CheckAsync(page, $"fails-{width}");

        // Noting it needs no disk, and does not end it.
        await page.WaitForSelectorAsync("html[data-alarm=trouble]");
        await page.ClickAsync("text=I take note of this trouble");
        await page.WaitForSelectorAsync("html[data-alarm=none]");
        await Assertions.Expect(page.Locator("article.problem").First).ToContainTextAsync("Runa Holt took note at ");
    }

    [Fact]
    public async Task Trouble_of_the_watch_room_sounds_until_somebody_notes_it_and_never_above_a_persons_alert()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var page = await browser.SignInAsync(rig);
        await page.ClickAsync("#sound-key");
        await page.WaitForSelectorAsync("#sound[data-on=true]");
        await page.WaitForSelectorAsync("html[data-alarm=none]");
        var before = await page.EvaluateAsync<int>("() => window.sounded");

        File.Delete(Path.Combine(rig.Store, RingRound.TargetsFile));
        await page.WaitForSelectorAsync("html[data-alarm=trouble]");
        Assert.Equal("TROUBLE: Watch board", await page.TitleAsync());
        await page.WaitForFunctionAsync("before => window.sounded > before + 1", before);
        await Assertions.Expect(page.Locator("article.problem")).ToContainTextAsync("Nobody outside is told of alerts");
        await CheckAsync(page, "trouble");

        // The alarm is the person's while both are there, and the person's alert stands first.
        await tablet.BeatAsync(FakeTablet.Calling(CallKind.Help));
        await page.WaitForSelectorAsync("html[data-alarm=alert]");
        Assert.Equal("1 ALERT: Watch board", await page.TitleAsync());
        Assert.True(await page.EvaluateAsync<bool>(
            "() => Boolean(document.querySelector('.alert-open').compareDocumentPosition(document.querySelector('article.problem')) & Node.DOCUMENT_POSITION_FOLLOWING)"));
        await page.ClickAsync(".alert-open button");
        await page.WaitForSelectorAsync("html[data-alarm=trouble]");

        await page.ClickAsync("text=I take note of this trouble");
        await page.WaitForSelectorAsync("html[data-alarm=none]");
        await Assertions.Expect(page.Locator("article.problem")).ToContainTextAsync("Runa Holt took note at ");
        await WatchroomRig.UntilAsync(() => rig.Audit().Any(entry => entry.StartsWith("trouble.noted", StringComparison.Ordinal)), "the audit chain has it");
    }

    [Fact]
    public async Task A_place_is_linked_with_its_accuracy_and_age()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        await tablet.BeatAsync(FakeTablet.Beat());
        var page = await browser.SignInAsync(rig);

        Assert.Equal("geo:52.20510,-0.13640;u=12", await page.GetAttributeAsync(".watch a", "href"));
        await Assertions.Expect(page.Locator(".watch")).ToContainTextAsync("within 12 m, found ");
        var before = await page.InnerTextAsync(".watch dd:has(time) >> nth=1");
        await Assertions.Expect(page.Locator(".watch dd:has(time) >> nth=1")).Not.ToHaveTextAsync(before);
    }

    [Fact]
    public async Task A_place_that_was_found_long_ago_is_shown_as_old()
    {
        await using var rig = await WatchroomRig.StartAsync();
        using var tablet = await rig.PairAsync();
        var nearly = Whereabouts.OldMilliseconds - 15_000;
        await tablet.BeatAsync(FakeTablet.Beat() with { Where = new Whereabouts("52.20510", "-0.13640", 12, nearly) });
        var page = await browser.SignInAsync(rig);
        await Assertions.Expect(page.Locator(".watch")).ToContainTextAsync("within 12 m, found 9 min");
        await Assertions.Expect(page.Locator(".where-old-word")).ToBeHiddenAsync();

        // The page counts on by itself, though the tablet says nothing new.
        await Assertions.Expect(page.Locator(".where-old-word")).ToBeVisibleAsync(new() { Timeout = 40_000 });
        await browser.KeepAsync(page, "old position");
    }

    private async Task CheckAsync(IPage page, string where)
    {
        await browser.KeepAsync(page, where);
        var found = await page.RunAxe(Rules);
        Assert.True(found.Violations.Length == 0, $"{where}: {string.Join("; ", found.Violations.Select(fault => $"{fault.Id} {fault.Nodes[0].Html}"))}");
        Assert.False(await page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth > innerWidth + 1"), $"{where} is wider than the window");
    }
}
