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

    /// <summary>True when an element is seen within some seconds.</summary>
    public static async Task<bool> IsSeenAsync(this IPage page, string selector)
    {
        try
        {
            await page.WaitForSelectorAsync(selector, new() { Timeout = 5000 });
            return true;
        }
        catch (TimeoutException)
        {
            return false;
        }
    }

    /// <summary>
    /// Presses a panel's key until the panel is there, or gone, and stays so: on a busy machine a press may be swallowed with what stood there
    /// before, or two be taken at once and undo each other.
    /// </summary>
    public static async Task PanelAsync(this IPage page, string panel, bool open = true)
    {
        for (var attempt = 0; attempt < 6; attempt++)
        {
            await Task.Delay(500);
            if (await page.Locator(".panel").CountAsync() > 0 == open)
            {
                return;
            }

            await page.TouchAsync($"[data-press='panel:{panel}']");
            await page.IsSeenAsync(open ? ".panel" : "body:not(:has(.panel))");
        }
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

    /// <summary>Puts something as wide as a palm down on an element, leaves it there, and takes it up.</summary>
    public static async Task PalmAsync(this IPage page, string selector, int milliseconds)
    {
        var (x, y) = await MiddleAsync(page, selector);
        var session = await page.Context.NewCDPSessionAsync(page);
        await SendAsync(session, "touchStart", 150, (x, y));
        await Task.Delay(milliseconds);
        await TouchAsync(session, "touchEnd");
        await session.DetachAsync();
    }

    /// <summary>Holds an element, slides off it upwards and back again, and takes the finger up there.</summary>
    public static async Task SlideAsync(this IPage page, string selector, int pixels, int milliseconds)
    {
        var (x, y) = await MiddleAsync(page, selector);
        var session = await page.Context.NewCDPSessionAsync(page);
        await TouchAsync(session, "touchStart", (x, y));
        foreach (var step in new[] { 0.5, 1, 0.5, 0 })
        {
            await TouchAsync(session, "touchMove", (x, y - (step * pixels)));
            await Task.Delay(milliseconds / 4);
        }

        await TouchAsync(session, "touchEnd");
        await session.DetachAsync();
    }

    /// <summary>Holds an element until the system takes the touch away.</summary>
    public static async Task CancelAsync(this IPage page, string selector, int milliseconds)
    {
        var (x, y) = await MiddleAsync(page, selector);
        var session = await page.Context.NewCDPSessionAsync(page);
        await TouchAsync(session, "touchStart", (x, y));
        await Task.Delay(milliseconds);
        await TouchAsync(session, "touchCancel");
        await session.DetachAsync();
    }

    private static async Task<(double X, double Y)> MiddleAsync(IPage page, string selector)
    {
        var box = await page.Locator(selector).First.BoundingBoxAsync() ?? throw new InvalidOperationException($"{selector} is not shown.");
        return (box.X + (box.Width / 2), box.Y + (box.Height / 2));
    }

    private static Task TouchAsync(ICDPSession session, string type, params (double X, double Y)[] points) => SendAsync(session, type, 20, points);

    private static Task SendAsync(ICDPSession session, string type, int radius, params (double X, double Y)[] points) =>
        session.SendAsync("Input.dispatchTouchEvent", new Dictionary<string, object>
        {
            ["type"] = type,
            ["touchPoints"] = points.Select((point, index) => new Dictionary<string, object>
            {
                ["x"] = Math.Round(point.X),
                ["y"] = Math.Round(point.Y),
                ["radiusX"] = radius,
                ["radiusY"] = radius,
                ["id"] = index,
            }).ToArray(),
        });
}
