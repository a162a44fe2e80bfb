using Companion.Domain.Asking;
using Microsoft.Playwright;

namespace Companion.Tablet.Tests.Support;

/// <summary>One page of a job in which equipment is looked over, question after question that a tap answers. Its link can be slow.</summary>
public sealed class TouchBench : IAsyncLifetime
{
    /// <summary>Everything that the page tells the app is late by window.lateBy milliseconds.</summary>
    private const string SlowLink = """
        Object.defineProperty(window, 'companion', {
          get() { return this.slow; },
          set(real) {
            const late = page => ({ invokeMethodAsync: async (...told) => {
              await new Promise(done => setTimeout(done, window.lateBy ?? 0));
              return page.invokeMethodAsync(...told);
            } });
            this.slow = { attach: page => real.attach(late(page)) };
          },
        });
        """;

    private readonly Browser _browser = new();

    internal TabletRig Rig { get; private set; } = null!;

    internal IPage Page { get; private set; } = null!;

    public async Task InitializeAsync()
    {
        await _browser.InitializeAsync();
        Rig = await TabletRig.StartAsync();
        await Rig.OpenAsync();
        await Rig.UntilAsync(NeedKind.CheckKit);
        Page = await _browser.OpenAsync(Rig, script: SlowLink);
    }

    public async Task DisposeAsync()
    {
        await _browser.DisposeAsync();
        await Rig.DisposeAsync();
    }

    /// <summary>The page shows the open question, and has shown it for long enough to be answered.</summary>
    internal async Task SettleAsync()
    {
        await Page.WaitForFunctionAsync(
            "key => document.querySelector('[data-shown]').dataset.shown === key", $"{Rig.Job.Question!.Sequence}.{Rig.Job.Question.Since.Nanoseconds}");
        await Task.Delay(500);
    }

    /// <summary>Does something while the link is slow, and waits until it was refused as late.</summary>
    internal async Task LateByAsync(int milliseconds, Func<Task> act)
    {
        var before = Refusals();
        await Page.EvaluateAsync("late => { window.lateBy = late; }", milliseconds);
        await act();
        await TabletRig.UntilTrueAsync(() => Refusals() > before);
        await Page.EvaluateAsync("() => { window.lateBy = 0; }");
    }

    private int Refusals() =>
        Rig.Entries.Count(entry => entry.Type == "step.refused" && entry.Data.Contains("began before the present question", StringComparison.Ordinal));
}
