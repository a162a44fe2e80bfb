using Companion.Domain.Asking;
using Companion.Sheets;
using Companion.Tablet.Cli;
using Companion.Tablet.Tests.Support;
using Companion.TestKit;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Companion.Tablet.Tests;

/// <summary>Reading a sheet in the tablet's browser, from the list where one is chosen and back.</summary>
[Trait(Pace.Name, Pace.Unhurried)]
public sealed class SheetReadingTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    private static readonly string Seeds = Path.Combine(Places.Home, "seeds", "sheets");
    private static readonly AxeRunOptions ViolationsOnly = new() { ResultTypes = [ResultType.Violations], Iframes = false };

    private TabletRig _rig = null!;

    public async Task InitializeAsync()
    {
        _rig = await TabletRig.StartAsync(sheetFolder: Seeds);
        _rig.Sheets.Replace(DemoSheets.Van(), Seed("haverstoke-brambling"), Seed("fennick-siskin"));
    }

    public async Task DisposeAsync() => await _rig.DisposeAsync();

    [Fact]
    public async Task From_the_list_a_sheet_is_read_and_the_way_leads_back_to_the_same_question()
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(NeedKind.ChooseSheet);
        var page = await browser.OpenAsync(_rig);
        var question = _rig.Job.Question!.Sequence;

        await page.ClickAsync("a[href='sheet/10']");
        await page.WaitForSelectorAsync(".reading-words");
        await CheckAsync(page, "sheet");
        await KeepAsync(page, "sheet-page");
        await page.ClickAsync("text=Back to the job");
        await page.WaitForSelectorAsync(".sheets");
        Assert.Equal(question, _rig.Job.Question!.Sequence);

        await Task.Delay(500); // the page takes no finger that was down before its question
        await page.TouchAsync("[data-press='sheet:07']", 80);
        await page.WaitForSelectorAsync("[data-press='sheet:07'][aria-pressed=true]");
    }

    [Fact]
    public async Task Nothing_that_is_pressed_on_the_page_answers_for_the_job()
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(NeedKind.ChooseSheet);
        var page = await browser.OpenAsync(_rig);
        await page.ClickAsync("a[href='sheet/07']");
        await page.WaitForSelectorAsync(".reading-words");
        var before = _rig.Job.Sequence;

        foreach (var key in new[] { "F9", "Enter", "F2", "F8", "7", "F6" })
        {
            await page.Keyboard.DownAsync(key);
            await Task.Delay(1400);
            await page.Keyboard.UpAsync(key);
        }

        await page.TouchAsync(".chapter-rows", 1400);
        Assert.DoesNotContain(_rig.Entries.Skip((int)before), entry => entry.Type is not ("clock.anchored" or "prompt.spoken"));
        Assert.Equal(0, await page.Locator("[data-press]").CountAsync());
    }

    // I19: a warning is answered where it can be, and the page that is only read gives way at once.
    [Fact]
    public async Task A_warning_brings_the_job_screen_back()
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(NeedKind.OpenPoint);
        var page = await browser.OpenAsync(_rig, "/sheet/7");
        await page.WaitForSelectorAsync(".reading-words");

        await _rig.SayAsync(Phrase.Stop);

        await page.WaitForSelectorAsync(".alarm");
        Assert.Equal("/", new Uri(page.Url).AbsolutePath);
    }

    // I18: the page is covered like every other when the engine says nothing.
    [Fact]
    public async Task The_page_is_covered_when_the_engine_hangs()
    {
        var page = await browser.OpenAsync(_rig, "/sheet/7");
        _rig.Hang();
        await page.WaitForSelectorAsync("html[data-link=down]");
        await Assertions.Expect(page.Locator(".cover")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task Outside_a_job_every_sheet_is_read_from_the_start_screen()
    {
        var page = await browser.OpenAsync(_rig);
        await page.ClickAsync("a[href='sheet']");
        await page.WaitForSelectorAsync(".reading-list");
        await CheckAsync(page, "list");
        await KeepAsync(page, "sheet-list");
        await page.ClickAsync("a[href='sheet/4']");
        await page.WaitForSelectorAsync("iframe.document");
        await CheckAsync(page, "sheet 4");
        await KeepAsync(page, "sheet-page-48");
    }

    // Went in with the first sheet under 60 volts: its note takes room from what is asked.
    [Theory]
    [InlineData(NeedKind.OpenPoint)]
    [InlineData(NeedKind.WaitOver)]
    [InlineData(NeedKind.TakeReading)]
    [InlineData(NeedKind.Working)]
    public async Task The_note_of_a_sheet_without_class_b_is_in_view_and_cuts_nothing_off(NeedKind kind)
    {
        _rig.Sheets.Replace(DemoSheets.Mild());
        await _rig.OpenAsync();
        await _rig.UntilAsync(kind);
        var page = await browser.OpenAsync(_rig);

        Assert.Equal(kind == NeedKind.TakeReading ? [] : ["By this sheet the vehicle holds at most 54 volts: no class B voltage. "
            + "Arcs and heat still burn. Everything else goes on as the sheet says."], await page.Locator(".note").AllInnerTextsAsync());
        await CheckAsync(page, kind.ToString());
        Assert.True(await page.EvaluateAsync<bool>("""
            () => [...document.querySelectorAll('.may, .heard, .statement, .countdown')].every(e => e.closest('.left') === null
              || e.getBoundingClientRect().bottom <= e.closest('.left').getBoundingClientRect().bottom + 1)
            """));
        await KeepAsync(page, $"no-class-b-{kind}".ToLowerInvariant());
    }

    private static Companion.Domain.Sheets.Sheet Seed(string name) => SheetReader.ReadFile(Path.Combine(Seeds, name + ".yaml")).Sheet!;

    private static async Task CheckAsync(IPage page, string where)
    {
        var found = await page.RunAxe(ViolationsOnly);
        Assert.True(found.Violations.Length == 0, $"{where}: {string.Join("; ", found.Violations.Select(fault => $"{fault.Id} {fault.Nodes[0].Html}"))}");
        var outside = await page.EvaluateAsync<string[]>("""
            () => [...document.querySelectorAll('.head, .main, .bar, .note, .ask-words, .big, .key, .statement, .sheet-row, .document, .reading-words')]
              .filter(e => { const b = e.getBoundingClientRect(); return b.right > innerWidth + 1 || b.bottom > innerHeight + 1 || b.left < -1; })
              .map(e => e.className)
            """);
        Assert.True(outside.Length == 0, $"{where}: outside the window: {string.Join(", ", outside)}");
    }

    private static async Task KeepAsync(IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("COMPANION_SCREENSHOTS") is { } folder)
        {
            await Task.Delay(1500);
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, name + ".png") });
        }
    }
}
