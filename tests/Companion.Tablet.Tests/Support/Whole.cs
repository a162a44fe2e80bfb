using Microsoft.Playwright;

namespace Companion.Tablet.Tests.Support;

/// <summary>Nothing on the page is cut off; `COMPANION_SCREENSHOTS` keeps its picture.</summary>
internal static class Whole
{
    /// <summary>Words may reach three pixels below their box: the tails of their letters.</summary>
    private const string Cut = """
        () => [...document.querySelectorAll('.ask, .ask-words, .big, .key, .keypad, .panel, .choice, .start-event, .place, .cuff-main, .cuff-ask')]
          .filter(e => e.scrollHeight > e.clientHeight + 3 || e.scrollWidth > e.clientWidth + 1 || e.getBoundingClientRect().bottom > innerHeight + 1)
          .map(e => `${e.className} ${e.scrollHeight} > ${e.clientHeight}`)
        """;

    /// <summary>Asserts it and takes the picture under this name.</summary>
    public static async Task AssertAsync(IPage page, string where)
    {
        if (Environment.GetEnvironmentVariable("COMPANION_SCREENSHOTS") is { } folder)
        {
            await page.ScreenshotAsync(new() { Path = Path.Combine(folder, $"{where}.png") });
        }

        var cut = await page.EvaluateAsync<string[]>(Cut);
        Assert.True(cut.Length == 0, $"{where}: {string.Join("; ", cut)}");
    }
}
