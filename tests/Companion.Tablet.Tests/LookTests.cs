using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Tablet.Tests.Support;
using Microsoft.Playwright;

namespace Companion.Tablet.Tests;

public sealed class LookTests(Browser browser) : IClassFixture<Browser>
{
    [Fact]
    public async Task Shots()
    {
        await using var rig = await TabletRig.StartAsync(StoreKind.Rehearsal);
        var page = await browser.OpenAsync(rig);
        var cuff = await browser.OpenAsync(rig, "/cuff", 240, 240);
        var cuff2 = await browser.OpenAsync(rig, "/cuff", 320, 320);
        var n = 0;
        async Task Shot(string name)
        {
            await Task.Delay(400);
            n++;
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = $"/tmp/shots/{n:00}-{name}.png" });
            await cuff.ScreenshotAsync(new PageScreenshotOptions { Path = $"/tmp/shots/{n:00}-{name}-cuff.png" });
            await cuff2.ScreenshotAsync(new PageScreenshotOptions { Path = $"/tmp/shots/{n:00}-{name}-cuff2.png" });
        }

        await Shot("start");
        await rig.OpenAsync();
        await Shot("sound");
        await rig.UntilAsync(NeedKind.ChooseSheet);
        await Shot("sheet");
        await rig.UntilAsync(NeedKind.CheckKit);
        await Shot("kit");
        await rig.UntilAsync(NeedKind.FitLock);
        await Shot("lock");
        await rig.UntilAsync(NeedKind.OpenPoint, 1);
        await Shot("open");
        await rig.UntilAsync(NeedKind.WaitOver, 2);
        await Shot("wait");
        await rig.UntilAsync(NeedKind.ProveTester);
        await Shot("prove");
        await rig.UntilAsync(NeedKind.TakeReading);
        await Shot("reading");
        await rig.SayAsync(Phrase.ProvedDead);
        await Shot("refused");
        await rig.UntilAsync(NeedKind.WaitOver);
        await Shot("proved");
        await rig.UntilAsync(NeedKind.Working);
        await Shot("working");
        await rig.SayAsync(Phrase.KeyOn);
        await Shot("alarm");
        rig.Hang();
        await Task.Delay(2000);
        await Shot("hung");
    }
}
