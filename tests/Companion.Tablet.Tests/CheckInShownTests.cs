using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Screens.Answering;
using Companion.Tablet.Tests.Support;
using Companion.TestKit;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>A check-in by touch, on whatever screen the technician is (I10).</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class CheckInShownTests(Browser browser) : IClassFixture<Browser>
{
    private const int Hold = 1600;

    /// <summary>20 mm on a 10 inch screen of 1280 x 800.</summary>
    private const int TwentyMillimetres = 118;

    private const string Key = ".big-checkin";

    private const string BannerIsWhole = "() => { const banner = document.querySelector('.cuff-banner'); return banner.scrollHeight <= banner.clientHeight + 3; }";

    /// <summary>Holds what lies where the key was, from the moment at which it is gone.</summary>
    private const string TouchWhenItGoes = """
        () => {
          const box = document.querySelector('.big-checkin').getBoundingClientRect();
          const at = { bubbles: true, pointerId: 77, isPrimary: true, width: 20, height: 20, clientX: box.left + box.width / 2, clientY: box.top + box.height / 2 };
          const touch = type => document.elementFromPoint(at.clientX, at.clientY).dispatchEvent(new PointerEvent(type, at));
          const look = new MutationObserver(() => {
            if (document.querySelector('.big-checkin')) { return; }
            look.disconnect();
            touch('pointerdown');
            setTimeout(() => { touch('pointerup'); window.lifted = true; }, 1500);
          });
          look.observe(document.querySelector('.screen'), { childList: true, subtree: true });
        }
        """;

    [Fact]
    public async Task A_check_in_is_asked_for_beside_the_keypad_by_a_key_for_a_glove_and_only_a_hold_makes_it()
    {
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal, watch: DemoWatch.Even(2000, 120, 60));
        await rig.OpenAsync();
        var page = await browser.OpenAsync(rig);
        await rig.UntilAsync(NeedKind.ProveTester);
        await page.WaitForSelectorAsync(".keypad");
        await Whole.AssertAsync(page, "the same without check-in");
        var places = await PlacesAsync(page);
        await PassToAsync(rig, CheckInStage.Asked);
        await Expect(page.Locator(Key)).ToContainTextAsync("Check in: hold");
        await Expect(page.Locator(".head-key-asked")).ToContainTextAsync("All right");
        await Whole.AssertAsync(page, "check-in asked over the keypad");
        var key = (await page.Locator(Key).BoundingBoxAsync())!;
        Assert.True(key.Width >= TwentyMillimetres && key.Height >= TwentyMillimetres, $"{key.Width} x {key.Height}");
        Assert.Equal(places, await PlacesAsync(page));

        await PassToAsync(rig, CheckInStage.Due);
        await Expect(page.Locator(Key)).ToContainTextAsync("Check in now: hold");
        await page.TouchAsync(Key);
        await Task.Delay(300);
        Assert.Equal(CheckInStage.Due, rig.Job.CheckIn!.Stage);
        await HoldUntilAsync(page, Key, () => rig.Job.CheckIn!.Stage == CheckInStage.Quiet);
        await Expect(page.Locator(".head-key-asked")).ToHaveCountAsync(0);
        await Expect(page.Locator(Key)).ToHaveCountAsync(0);
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
        await Expect(page.Locator(Key)).ToContainTextAsync("Check-in missed: hold");
        await Whole.AssertAsync(page, "check-in missed with a panel");

        await page.PanelAsync("people", open: false);
        await rig.SayAsync(Phrase.Stop);
        await page.WaitForSelectorAsync(".alarm");
        await Whole.AssertAsync(page, "check-in missed under an alarm");
        await HoldUntilAsync(page, Key, () => rig.Job.CheckIn!.Stage == CheckInStage.Quiet);
        Assert.Contains(rig.Entries, entry => entry.Type == "checkin.made");
    }

    [Theory]
    [InlineData(240, 240)]
    [InlineData(320, 320)]
    [InlineData(390, 700)]
    public async Task The_cuff_asks_for_a_check_in_and_takes_it_by_a_hold(int width, int height)
    {
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal, watch: DemoWatch.Even(600, 120, 60));
        await rig.OpenAsync();
        var cuff = await browser.OpenAsync(rig, "/cuff", width, height);
        await rig.UntilAsync(NeedKind.WaitOver);
        await Expect(cuff.Locator(Key)).ToHaveCountAsync(0);
        await PassToAsync(rig, CheckInStage.Due);
        await Expect(cuff.Locator(".banner-checkin")).ToContainTextAsync("Check in now");
        await Whole.AssertAsync(cuff, $"check-in asked cuff {width}");
        Assert.True(await cuff.EvaluateAsync<bool>(BannerIsWhole), "the words that ask are cut");
        var key = (await cuff.Locator(Key).BoundingBoxAsync())!;
        Assert.True(key.Width >= TwentyMillimetres && key.Height >= 60, $"{key.Width} x {key.Height}");

        await cuff.TouchAsync(Key);
        await Task.Delay(300);
        Assert.Equal(CheckInStage.Due, rig.Job.CheckIn!.Stage);
        await rig.SayAsync(Phrase.KeyOn);
        await cuff.WaitForSelectorAsync(".banner-alarm");
        await Whole.AssertAsync(cuff, $"check-in asked under an alarm, cuff {width}");
        Assert.True(await cuff.EvaluateAsync<bool>(BannerIsWhole), "the alarm's words are cut");
        await HoldUntilAsync(cuff, Key, () => rig.Job.CheckIn!.Stage == CheckInStage.Quiet);
        await Expect(cuff.Locator(Key)).ToHaveCountAsync(0);
    }

    // The key that goes gives its room back to the first button: a finger that was meant for it must not confirm something else.
    [Fact]
    public async Task A_finger_that_comes_down_as_the_key_goes_answers_nothing()
    {
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal, watch: DemoWatch.Even(600, 120, 60));
        await rig.OpenAsync();
        var page = await browser.OpenAsync(rig);
        await rig.UntilAsync(NeedKind.OpenPoint);
        await PassToAsync(rig, CheckInStage.Due);
        await page.WaitForSelectorAsync(Key);
        await Task.Delay(500);
        await page.EvaluateAsync(TouchWhenItGoes);
        await rig.SayAsync(Phrase.AllRight, until: snapshot => snapshot.Job!.CheckIn!.Stage == CheckInStage.Quiet);
        await page.WaitForFunctionAsync("() => window.lifted === true");
        await Task.Delay(300);
        Assert.Empty(rig.Job.Points);

        await HoldUntilAsync(page, "[data-press=primary]", () => !rig.Job.Points.IsEmpty);
    }

    [Fact]
    public async Task Whatever_the_first_button_says_there_is_room_for_it_beside_the_key()
    {
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal, watch: DemoWatch.Even(600, 120, 60));
        await rig.OpenAsync();
        await rig.UntilAsync(NeedKind.OpenPoint);
        await PassToAsync(rig, CheckInStage.Due);
        var page = await browser.OpenAsync(rig);
        await page.WaitForSelectorAsync(Key);
        var words = Enum.GetValues<Phrase>().Select(ButtonWords.Of).Where(word => !word.Contains('{')).Distinct().ToArray();
        Assert.Empty(await page.EvaluateAsync<string[]>(
            """
            words => words.filter(word => {
              const button = document.querySelector('.big-primary');
              button.querySelector('.big-label').textContent = word;
              return button.scrollWidth > button.clientWidth + 1 || button.scrollHeight > button.clientHeight + 3;
            })
            """,
            words));
    }

    /// <summary>Where the buttons are that a check-in must not move.</summary>
    private static async Task<string> PlacesAsync(IPage page) => await page.EvaluateAsync<string>("""
        () => ['second', 'third'].map(name => document.querySelector(`[data-press=${name}]`).getBoundingClientRect())
          .map(box => [box.left, box.right, box.top, box.bottom].map(Math.round).join(' ')).join(', ')
        """);

    private static async Task HoldUntilAsync(IPage page, string selector, Func<bool> done)
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
