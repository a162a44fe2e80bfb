using Companion.Contracts;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Simulation.Disk;
using Companion.Simulation.Ports;
using Companion.TestKit;
using Companion.Watchroom.Access;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Watching;
using Companion.Watchroom.Web;

namespace Companion.Simulation.Watched;

/// <summary>
/// The watch room: the real keeper, receiver and rules of admission over a simulated disk. What it keeps in small files of its own (who is paired,
/// which counters were used) lies in a folder of the machine. Time passes in it only when it is told to look.
/// </summary>
internal sealed class WatchRoom(string folder, TimeProvider time, int seed) : IDisposable
{
    private const string JournalFolder = "/room/journal";
    private const string WatchFolder = "/room/watch";
    private const string ReceivedFolder = "/room/received";
    private static readonly Guid Identity = Guid.Parse("6c1d7f04-2b7e-4a55-9a53-1f0de2f7ab31");

    private SimulatedDisk _disk = new();
    private JournalStore? _store;
    private Audit? _audit;
    private RoomDoor? _door;
    private int _starts;

    /// <summary>The watch; null while the watch room is down.</summary>
    public WatchKeeper? Keeper { get; private set; }

    /// <summary>The received journals; null while the watch room is down.</summary>
    public JournalReceiver? Receiver { get; private set; }

    /// <summary>Hash of the last entry of the watch.</summary>
    public string Head => _store!.Read(WatchChain) is [.., var last] ? last.Hash : string.Empty;

    /// <summary>A tablet is known from now on.</summary>
    public void Pair(Device device) =>
        new KeptFile<Device[]>(Path.Combine(folder, "devices.json"), []).Change(devices => ((Device[])[.. devices, device], true));

    /// <summary>Starts on what is on the disk.</summary>
    public void Start()
    {
        var clock = new RoomClock(time);
        _store = JournalStore.OpenAsync(JournalFolder, new StoreOptions(clock)
        {
            Kind = StoreKind.Real, TabletId = Identity, Disk = _disk, Salts = new SeededSalts(seed + ++_starts),
        }).GetAwaiter().GetResult();
        Keeper = WatchKeeper.OpenAsync(_store, time, new WatchOptions(WatchFolder) { Disk = _disk }).GetAwaiter().GetResult();
        Receiver = JournalReceiver.Open(ReceivedFolder, _disk);

        // Refusals are written beside everything else, by a thread of their own: on the simulated disk they would fall between other writes by chance.
        _audit = new Audit(new MemoryJournal(), clock);
        _door = new RoomDoor(new UplinkServices(
            Keeper, Receiver, new Devices(folder, time), new PairCodes(folder, time), new Counters(folder), _audit, _ => { }));
    }

    /// <summary>Asks it.</summary>
    public Reply Ask(Letter letter) => _door!.Ask(letter);

    /// <summary>It looks at its deadlines.</summary>
    public void Pulse() => Keeper!.PulseAsync().GetAwaiter().GetResult();

    /// <summary>The process dies; what the operating system has of the files stays.</summary>
    public void Kill() => Stop(_disk.Copy());

    /// <summary>The power goes.</summary>
    public void CutPower(Random chance) => Stop(_disk.AfterCut(chance));

    /// <inheritdoc/>
    public void Dispose() => Stop(_disk);

    private const string WatchChain = "watch";

    private void Stop(SimulatedDisk left)
    {
        // The threads of the old process must end; whatever they still write goes to a disk that nobody reads any more.
        Keeper?.DisposeAsync().AsTask().GetAwaiter().GetResult();
        Receiver?.Dispose();
        _audit?.DisposeAsync().AsTask().GetAwaiter().GetResult();
        _store?.DisposeAsync().AsTask().GetAwaiter().GetResult();
        (Keeper, Receiver, _audit, _store, _door) = (null, null, null, null, null);
        _disk = left;
    }

    private sealed class RoomClock(TimeProvider time) : IClock
    {
        public Moment Now() => new(time.GetUtcNow(), "room", new Ticks(time.GetTimestamp()), new Ticks(time.GetTimestamp()));
    }
}
