using System.Collections.Immutable;
using System.Diagnostics;
using Companion.Tablet.Kiosk;
using Companion.Tablet.Tests.Support;

namespace Companion.Tablet.Tests;

/// <summary>One window, and always one: nobody in gloves can open another.</summary>
public sealed class KioskWindowTests : IDisposable
{
    /// <summary>In the order of their opening, which happens on a thread of the window's.</summary>
    private volatile ImmutableList<int> _ids = [];

    public void Dispose()
    {
        foreach (var id in _ids.Where(TabletProcess.IsRunning))
        {
            Signals.Send("KILL", Signals.TreeOf(id));
        }
    }

    [Fact]
    public async Task A_window_that_ended_is_replaced()
    {
        using var window = new KioskWindow(() => Browser("exec sleep 60"));
        window.Open();
        await OpenedAsync(1);
        Signals.Send("KILL", _ids[0]);
        await TabletRig.UntilTrueAsync(() => !TabletProcess.IsRunning(_ids[0]));

        window.Open();
        await OpenedAsync(2);
        Assert.True(TabletProcess.IsRunning(_ids[1]));
    }

    [Fact]
    public async Task A_window_that_hangs_is_ended_with_all_its_processes_before_the_next_is_opened()
    {
        using var window = new KioskWindow(() => Browser("sleep 60 & wait"));
        window.Open();
        await OpenedAsync(1);
        await TabletRig.UntilTrueAsync(() => Signals.TreeOf(_ids[0]).Count == 2);
        var tree = Signals.TreeOf(_ids[0]);
        Signals.Send("STOP", tree);

        window.Open();
        await OpenedAsync(2);
        await TabletRig.UntilTrueAsync(() => !tree.Any(TabletProcess.IsRunning));
    }

    // Went wrong: the wait for the hanging browser's end waited for its output too, which a child that had left its tree held open.
    [Fact]
    public async Task A_stray_child_of_a_hanging_window_does_not_keep_the_next_from_being_opened()
    {
        using var window = new KioskWindow(() => Browser("(sleep 40 &); exec sleep 60"));
        window.Open();
        await OpenedAsync(1);
        await Task.Delay(300);

        window.Open();
        await OpenedAsync(2);
        Assert.False(TabletProcess.IsRunning(_ids[0]));
    }

    [Fact]
    public async Task Where_there_is_no_window_to_open_it_is_not_tried_again_and_again()
    {
        var asked = 0;
        using var window = new KioskWindow(() =>
        {
            asked++;
            return null;
        });
        window.Open();
        await TabletRig.UntilTrueAsync(() => asked == 1);
        window.Open();
        await Task.Delay(300);
        Assert.Equal(1, asked);
    }

    private Task OpenedAsync(int windows) => TabletRig.UntilTrueAsync(() => _ids.Count == windows);

    /// <summary>A process whose output is read, as the launcher reads the browser's.</summary>
    private Process Browser(string does)
    {
        var process = Process.Start(new ProcessStartInfo("sh", ["-c", does]) { RedirectStandardOutput = true })!;
        process.BeginOutputReadLine();
        _ids = _ids.Add(process.Id);
        return process;
    }
}
