using System.Diagnostics;
using System.Globalization;
using Companion.Tablet.Tests.Support;
using Companion.Tablet.Watchdog;

namespace Companion.Tablet.Tests;

/// <summary>I18: there is always a watchdog, and never one of an earlier start beside it.</summary>
public sealed class WatchdogKeeperTests : IDisposable
{
    private readonly string _store = Directory.CreateTempSubdirectory("companion-keeper-").FullName;

    private string Note => Path.Combine(_store, "watchdog.pid");

    public void Dispose() => Directory.Delete(_store, recursive: true);

    [Fact]
    public async Task A_watchdog_that_is_killed_is_replaced_and_the_last_one_ends_with_its_keeper()
    {
        int second;
        using (var keeper = new WatchdogKeeper(_store, Watchdog))
        {
            var first = keeper.ProcessId;
            Signals.Send("KILL", first);
            await TabletRig.UntilTrueAsync(() => keeper.ProcessId != first);
            second = keeper.ProcessId;
            Assert.True(TabletProcess.IsRunning(second));
            await TabletRig.UntilTrueAsync(() => File.ReadAllText(Note) == ProcessMark.Of(second));
        }

        await TabletRig.UntilTrueAsync(() => !TabletProcess.IsRunning(second));
        await Task.Delay(1500);
        Assert.False(File.Exists(Note));
    }

    [Fact]
    public async Task A_watchdog_that_cannot_be_started_for_a_while_is_tried_again()
    {
        var failures = 2;
        var allowed = 1;
        using var keeper = new WatchdogKeeper(_store, () => allowed-- > 0 || failures-- <= 0 ? Watchdog() : new ProcessStartInfo(Path.Combine(_store, "absent")));
        var first = keeper.ProcessId;
        Signals.Send("KILL", first);
        await TabletRig.UntilTrueAsync(() => keeper.ProcessId != first);
        Assert.True(failures < 0);
    }

    [Fact]
    public void A_watchdog_that_an_earlier_start_left_behind_is_ended()
    {
        using var left = Process.Start(Watchdog())!;
        File.WriteAllText(Note, ProcessMark.Of(left.Id));

        using var keeper = new WatchdogKeeper(_store, Watchdog);
        Assert.True(left.WaitForExit(TimeSpan.FromSeconds(40)));
        Assert.True(TabletProcess.IsRunning(keeper.ProcessId));
    }

    // Went wrong: any process with the number and the word "watchdog" among its arguments was ended.
    [Theory]
    [InlineData(1, "")]
    [InlineData(0, "-other-boot")]
    public void A_process_that_has_got_the_number_of_an_earlier_watchdog_is_left_alone(int ticks, string boot)
    {
        using var other = Process.Start(Watchdog())!;
        var mark = ProcessMark.Of(other.Id)!.Split(' ');
        File.WriteAllText(Note, $"{mark[0]} {long.Parse(mark[1], CultureInfo.InvariantCulture) - ticks} {mark[2]}{boot}");

        using (new WatchdogKeeper(_store, Watchdog))
        {
            Assert.False(other.WaitForExit(TimeSpan.FromMilliseconds(500)));
        }

        other.Kill();
    }

    [Theory]
    [InlineData("")]
    [InlineData("nonsense")]
    [InlineData("99999999 1 none")]
    public void A_note_that_tells_of_nobody_keeps_no_watchdog_from_being_started(string note)
    {
        File.WriteAllText(Note, note);
        using var keeper = new WatchdogKeeper(_store, Watchdog);
        Assert.True(TabletProcess.IsRunning(keeper.ProcessId));
    }

    private static ProcessStartInfo Watchdog() => new("sh", ["-c", "sleep 60; true", "watchdog"]);
}
