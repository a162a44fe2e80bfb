using Companion.Domain.Asking;
using Companion.Tablet.Tests.Support;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace Companion.Tablet.Tests;

/// <summary>I17: two screens show one job.</summary>
public sealed class TwoScreensTests(Browser browser) : IClassFixture<Browser>, IAsyncLifetime
{
    private TabletRig _rig = null!;

    public async Task InitializeAsync() => _rig = await TabletRig.StartAsync();

    public async Task DisposeAsync() => await _rig.DisposeAsync();

    [Fact]
    public async Task Of_two_holds_on_two_screens_exactly_one_counts()
    {
        var (one, other) = await AtOpeningAsync();
        await Task.WhenAll(one.TouchAsync("[data-press=primary]", 1500), other.TouchAsync("[data-press=primary]", 1500));
        await TabletRig.UntilTrueAsync(() => !_rig.Job.Points.IsEmpty);
        await Task.Delay(500);

        // Refused as late, or given up by its own page because the question had gone: both are right.
        Assert.InRange(Refusals(), 0, 1);
        Assert.Single(_rig.Job.Points);
        Assert.Single(_rig.Entries, entry => entry.Type == "point.opened");
        await ShowTheSameAsync(one, other);
    }

    [Fact]
    public async Task A_hold_on_one_screen_stops_filling_when_the_other_answers_and_confirms_nothing()
    {
        var (one, other) = await AtOpeningAsync();
        var hold = one.TouchAsync("[data-press=primary]", 3000);
        await one.WaitForSelectorAsync("[data-press=primary][data-pressing]");
        await other.TouchAsync("[data-press=primary]", 1300);
        await Expect(one.Locator(".entry-title")).ToHaveTextAsync("Lock number");
        await Expect(one.Locator("[data-pressing], [data-full]")).ToHaveCountAsync(0);
        await hold;
        await Task.Delay(300);

        Assert.Single(_rig.Job.Points);
        Assert.Empty(_rig.Job.Locks);
        await ShowTheSameAsync(one, other);
    }

    private int Refusals() =>
        _rig.Entries.Count(entry => entry.Type == "step.refused" && entry.Data.Contains("began before the present question", StringComparison.Ordinal));

    private async Task ShowTheSameAsync(IPage one, IPage other)
    {
        var key = $"{_rig.Job.Question!.Sequence}.{_rig.Job.Question.Since.Nanoseconds}";
        foreach (var page in new[] { one, other })
        {
            await Expect(page.Locator(".screen")).ToHaveAttributeAsync("data-shown", key);
        }

        await Expect(other.Locator(".main")).ToHaveTextAsync(await one.InnerTextAsync(".main"), new() { UseInnerText = true });
    }

    private async Task<(IPage One, IPage Other)> AtOpeningAsync()
    {
        await _rig.OpenAsync();
        await _rig.UntilAsync(NeedKind.OpenPoint);
        var pages = await Task.WhenAll(browser.OpenAsync(_rig), browser.OpenAsync(_rig));
        await Task.Delay(500);
        return (pages[0], pages[1]);
    }
}
