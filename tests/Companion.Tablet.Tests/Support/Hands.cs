using Microsoft.Playwright;

namespace Companion.Tablet.Tests.Support;

/// <summary>Fingers on a page, as a touch screen reports them.</summary>
internal static class Hands
{
    /// <summary>Puts a finger down on the middle of an element, leaves it there, and takes it up.</summary>
    public static async Task TouchAsync(this IPage page, string selector, int milliseconds = 60)
    {
        var (x, y) = await MiddleAsync(page, selector);
        var session = await page.Context.NewCDPSessionAsync(page);
        await TouchAsync(session, "touchStart", (x, y));
        await Task.Delay(milliseconds);
        await TouchAsync(session, "touchEnd");
        await session.DetachAsync();
    }

    /// <summary>Holds one element while a second finger comes down beside it.</summary>
    public static async Task TouchWithTwoAsync(this IPage page, string selector, string other, int milliseconds)
    {
        var (one, two) = (await MiddleAsync(page, selector), await MiddleAsync(page, other));
        var session = await page.Context.NewCDPSessionAsync(page);
        await TouchAsync(session, "touchStart", one);
        await Task.Delay(100);
        await TouchAsync(session, "touchStart", one, two);
        await Task.Delay(milliseconds);
        await TouchAsync(session, "touchEnd");
        await session.DetachAsync();
    }

    private static async Task<(double X, double Y)> MiddleAsync(IPage page, string selector)
    {
        var box = await page.Locator(selector).First.BoundingBoxAsync() ?? throw new InvalidOperationException($"{selector} is not shown.");
        return (box.X + (box.Width / 2), box.Y + (box.Height / 2));
    }

    private static Task TouchAsync(ICDPSession session, string type, params (double X, double Y)[] points) =>
        session.SendAsync("Input.dispatchTouchEvent", new Dictionary<string, object>
        {
            ["type"] = type,
            ["touchPoints"] = points.Select((point, index) => new Dictionary<string, object>
            {
                ["x"] = Math.Round(point.X),
                ["y"] = Math.Round(point.Y),
                ["id"] = index,
            }).ToArray(),
        });
}
