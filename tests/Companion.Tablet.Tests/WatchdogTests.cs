using System.Diagnostics;
using Companion.Tablet.Tests.Support;
using Companion.Tablet.Watchdog;
using Companion.Tablet.Web;

namespace Companion.Tablet.Tests;

/// <summary>I18: a hung engine is noticed from outside within two seconds.</summary>
public sealed class WatchdogTests : IAsyncLifetime
{
    private readonly CancellationTokenSource _end = new();
    private readonly HeardAlarm _alarm = new();
    private readonly StringWriter _error = new();
    private TabletRig _rig = null!;

    public async Task InitializeAsync() => _rig = await TabletRig.StartAsync();

    public async Task DisposeAsync()
    {
        _end.Dispose();
        await _rig.DisposeAsync();
    }

    [Fact]
    public async Task A_hung_loop_sounds_the_alarm_within_two_seconds_and_its_return_is_said()
    {
        var (dog, watching) = Watch(null);
        await Task.Delay(2500);
        Assert.Equal(0, dog.Alarms);

        var hung = Stopwatch.StartNew();
        _rig.Hang();
        await TabletRig.UntilTrueAsync(() => dog.Alarms > 0);
        Assert.InRange(hung.Elapsed.TotalSeconds, 0, 2.0);
        Assert.Equal(1, _alarm.Sounded);
        Assert.Contains("Companion does not answer. Treat as live.", _error.ToString(), StringComparison.Ordinal);

        _rig.Recover();
        await TabletRig.UntilTrueAsync(() => _error.ToString().Contains(EngineWatchdog.BackWords, StringComparison.Ordinal));
        await EndAsync(watching);
    }

    [Fact]
    public async Task A_process_that_is_gone_sounds_the_alarm_at_once()
    {
        using var child = Process.Start("sleep", "60");
        var (dog, watching) = Watch(child.Id, new Uri("http://127.0.0.1:9/beat"), TimeSpan.FromMinutes(1));
        await Task.Delay(600);
        Assert.Equal(0, dog.Alarms);

        var gone = Stopwatch.StartNew();
        child.Kill();
        await child.WaitForExitAsync();
        await TabletRig.UntilTrueAsync(() => dog.Alarms > 0);

        Assert.InRange(gone.Elapsed.TotalSeconds, 0, 2.0);
        await EndAsync(watching);
    }

    [Fact]
    public async Task A_server_that_accepts_and_never_answers_sounds_the_alarm()
    {
        using var mute = new System.Net.Sockets.TcpListener(System.Net.IPAddress.Loopback, 0);
        mute.Start();
        var port = ((System.Net.IPEndPoint)mute.LocalEndpoint).Port;

        var begun = Stopwatch.StartNew();
        var (dog, watching) = Watch(null, new Uri($"http://127.0.0.1:{port}/beat"));
        await TabletRig.UntilTrueAsync(() => dog.Alarms > 0);

        Assert.InRange(begun.Elapsed.TotalSeconds, 1, 2.3);
        await EndAsync(watching);
    }

    private (EngineWatchdog Dog, Task Watching) Watch(int? process, Uri? beat = null, TimeSpan? limit = null)
    {
        var options = new WatchdogOptions(beat ?? TabletWeb.BeatAddress(_rig.Web), _rig.Token, process);
        var dog = new EngineWatchdog(limit is { } given ? options with { Limit = given } : options, _alarm, _error, TimeProvider.System);
        return (dog, Task.Run(() => dog.RunAsync(_end.Token)));
    }

    private async Task EndAsync(Task watching)
    {
        await _end.CancelAsync();
        await watching;
    }
}
