using System.Net;
using Companion.Journal.Disk;
using Companion.TestKit;
using Companion.Watchroom.Access;
using Companion.Watchroom.Telling;

namespace Companion.Watchroom.Tests.Support;

/// <summary>A whole watch room on a port of this machine that stays its own, in a folder of its own that outlives a restart.</summary>
public sealed class WatchroomRig : IAsyncDisposable
{
    /// <summary>The password of everybody in the tests.</summary>
    public const string Password = "four plain words here";

    private const string PeopleFile = "people.json";

    /// <summary>Hashing passwords is slow on purpose: it is done once for all tests.</summary>
    private static readonly Lazy<byte[]> Crew = new(MakeCrew);

    private const string SharedMemory = "/dev/shm";
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(40);

    private readonly IDisk disk;
    private readonly TimeProvider? time;

    private WatchroomRig(IDisk disk, TimeProvider? time)
    {
        (this.disk, this.time) = (disk, time);
        Store = Path.Combine(Directory.Exists(SharedMemory) ? SharedMemory : Path.GetTempPath(), $"companion-watchroom-{Guid.NewGuid():N}");
        Directory.CreateDirectory(Store);
    }

    public string Store { get; }

    public WatchroomApp App { get; private set; } = null!;

    internal WatchroomServices Services => App.Services;

    /// <summary>Starts one with a team lead (Runa Holt), an administrator (Petra Ash) and a technician (Maren Oake).</summary>
    /// <param name="files">Files of the store: name and text.</param>
    public static Task<WatchroomRig> StartAsync(params (string Name, string Text)[] files) => StartAsync(new LocalDisk(), null, files);

    /// <summary>Starts one whose journal lies on a disk of the test's own.</summary>
    public static Task<WatchroomRig> StartAsync(IDisk disk, params (string Name, string Text)[] files) => StartAsync(disk, null, files);

    /// <summary>Starts one with a clock of the test's own.</summary>
    public static Task<WatchroomRig> StartAsync(TimeProvider time, params (string Name, string Text)[] files) => StartAsync(new LocalDisk(), time, files);

    private static async Task<WatchroomRig> StartAsync(IDisk disk, TimeProvider? time, (string Name, string Text)[] files)
    {
        var rig = new WatchroomRig(disk, time);
        // A watch room without a ring-round is in trouble, and its board sounds.
        await File.WriteAllTextAsync(Path.Combine(rig.Store, RingRound.TargetsFile), "[]");
        foreach (var (name, text) in files)
        {
            await File.WriteAllTextAsync(Path.Combine(rig.Store, name), text);
        }

        await File.WriteAllBytesAsync(Path.Combine(rig.Store, PeopleFile), Crew.Value);
        File.SetUnixFileMode(Path.Combine(rig.Store, PeopleFile), UnixFileMode.UserRead | UnixFileMode.UserWrite);
        await rig.OpenAsync(QuietPort.Next());
        return rig;
    }

    /// <summary>Stops and starts again in the same folder, on another port unless the same is asked for.</summary>
    public async Task RestartAsync(bool samePort = false)
    {
        var port = samePort ? App.Address.Port : QuietPort.Next();
        await App.DisposeAsync();
        await OpenAsync(port);
    }

    /// <summary>Starts again on a port, after the test has stopped it.</summary>
    public Task StartAgainAsync(int port) => OpenAsync(port);

    /// <summary>A paired tablet.</summary>
    public async Task<FakeTablet> PairAsync(string name = "van 12")
    {
        var tablet = new FakeTablet(this, name);
        await tablet.PairAsync(Services.Codes.New());
        return tablet;
    }

    /// <summary>The entries of a chain of the watch room's own journal, as their data texts.</summary>
    internal IReadOnlyList<string> Audit() => [.. App.Journal.Read("audit").Select(entry => $"{entry.Type} {entry.Data}")];

    /// <summary>Waits until something is so.</summary>
    public static async Task UntilAsync(Func<bool> condition, string what, TimeSpan? patience = null)
    {
        var since = TimeProvider.System.GetTimestamp();
        while (!condition())
        {
            Assert.True(TimeProvider.System.GetElapsedTime(since) < (patience ?? Patience), $"It did not come to this: {what}.");
            await Task.Delay(20);
        }
    }

    public async ValueTask DisposeAsync()
    {
        await App.DisposeAsync();
        Directory.Delete(Store, recursive: true);
    }

    private static byte[] MakeCrew()
    {
        var folder = Directory.CreateTempSubdirectory("companion-crew-").FullName;
        var people = new People(folder, TimeProvider.System);
        Assert.Null(people.Set("Runa Holt", Role.TeamLead, Password));
        Assert.Null(people.Set("Petra Ash", Role.Administrator, Password));
        Assert.Null(people.Set("Maren Oake", Role.Technician, Password));
        var made = File.ReadAllBytes(Path.Combine(folder, PeopleFile));
        Directory.Delete(folder, recursive: true);
        return made;
    }

    private async Task OpenAsync(int port) => App = await WatchroomApp.StartAsync(new WatchroomOptions(Store) { Port = port, Listen = IPAddress.Loopback, Disk = disk, Time = time });
}
