using System.Net;
using System.Net.Sockets;
using System.Text;
using Companion.TestKit;
using Companion.Watchroom.Tests.Support;
using Companion.Watchroom.Web;
using Microsoft.Extensions.Hosting;

namespace Companion.Watchroom.Tests.Web;

/// <summary>What lets others notice that nobody watches: an address that another machine asks, and words to the service manager.</summary>
public sealed class HealthTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("companion-health-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public async Task Anybody_learns_whether_deadlines_are_looked_at_and_nothing_else()
    {
        using var disk = new FailingDisk();
        await using var rig = await WatchroomRig.StartAsync(disk);
        using var stranger = new Visitor(rig);
        await AsksUntilAsync(stranger, (HttpStatusCode.OK, "watching\n"));

        // A disk that hangs stops the watch, and the address says so.
        using var tablet = await rig.PairAsync();
        disk.Hang();
        try
        {
            _ = tablet.SendSignedAsync(Companion.Contracts.Uplink.UplinkFormat.BeatPath, FakeTablet.Bytes(FakeTablet.Beat()));
            await AsksUntilAsync(stranger, (HttpStatusCode.ServiceUnavailable, "not watching\n"));
        }
        finally
        {
            disk.GoOn();
        }

        await AsksUntilAsync(stranger, (HttpStatusCode.OK, "watching\n"));
    }

    [Fact]
    public async Task A_watch_room_that_systemd_started_says_that_it_is_up_and_that_it_watches()
    {
        using var manager = Listen(out var path);
        using var room = new WatchroomProcess(typeof(WatchroomApp).Assembly.Location, Path.Combine(folder, "room")) { Environment = { [ServiceWord.Variable] = path } };
        await room.StartAsync();

        Assert.Equal("READY=1", await HearAsync(manager));
        Assert.Equal("WATCHDOG=1", await HearAsync(manager));
        Assert.Equal("WATCHDOG=1", await HearAsync(manager));
    }

    [Fact]
    public async Task The_manager_hears_nothing_while_deadlines_are_not_looked_at()
    {
        using var manager = Listen(out var path);
        var watching = true;
        var looked = 0;
        using var word = new ServiceWord(path, () => Interlocked.Increment(ref looked) > 0 && Volatile.Read(ref watching), TimeSpan.FromMilliseconds(10), new Started());
        await word.StartAsync(CancellationToken.None);
        Assert.Equal("READY=1", await HearAsync(manager));
        Assert.Equal("WATCHDOG=1", await HearAsync(manager));

        // One word may have been on its way: it was sent before the look after the next.
        Volatile.Write(ref watching, false);
        await LooksAsync(2);
        while (manager.Available > 0)
        {
            _ = await HearAsync(manager);
        }

        await LooksAsync(10);
        Assert.Equal(0, manager.Available);
        Volatile.Write(ref watching, true);
        Assert.Equal("WATCHDOG=1", await HearAsync(manager));
        await word.StopAsync(CancellationToken.None);

        Task LooksAsync(int times)
        {
            var before = Volatile.Read(ref looked);
            return WatchroomRig.UntilAsync(() => Volatile.Read(ref looked) >= before + times, $"it looks {times} times");
        }
    }

    /// <summary>Between two beats of its pulse, a watch room on a busy machine may seem not to watch.</summary>
    private static async Task AsksUntilAsync(Visitor visitor, (HttpStatusCode Status, string Text) awaited)
    {
        var since = TimeProvider.System.GetTimestamp();
        for (var heard = await AskAsync(visitor); heard != awaited; heard = await AskAsync(visitor))
        {
            Assert.True(TimeProvider.System.GetElapsedTime(since) < TimeSpan.FromSeconds(40), $"It says {heard}, not {awaited}.");
            await Task.Delay(50);
        }
    }

    private static async Task<(HttpStatusCode Status, string Text)> AskAsync(Visitor visitor)
    {
        using var answer = await visitor.GetAsync(HealthRoute.Address);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync());
    }

    private static async Task<string> HearAsync(Socket manager)
    {
        var word = new byte[64];
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(40));
        return Encoding.ASCII.GetString(word, 0, await manager.ReceiveAsync(word, patience.Token));
    }

    private Socket Listen(out string path)
    {
        path = Path.Combine(folder, "notify");
        var socket = new Socket(AddressFamily.Unix, SocketType.Dgram, ProtocolType.Unspecified);
        socket.Bind(new UnixDomainSocketEndPoint(path));
        return socket;
    }

    private sealed class Started : IHostApplicationLifetime
    {
        public CancellationToken ApplicationStarted => new(canceled: true);

        public CancellationToken ApplicationStopping => CancellationToken.None;

        public CancellationToken ApplicationStopped => CancellationToken.None;

        public void StopApplication() => throw new NotSupportedException();
    }
}
