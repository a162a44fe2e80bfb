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
/// The watch room: the real keeper, receiver, clock and rules of admission over a simulated disk and machine. What it keeps in small files of its own
/// (who is paired, which counters were used) lies in a folder that nothing ails. Time passes in it only when it is told to look.
/// </summary>
internal sealed class WatchRoom(string folder, Func<Ticks> now, int seed) : IDisposable
{
    private const string JournalFolder = "/room/journal";
    private const string WatchFolder = "/room/watch";
    private const string ReceivedFolder = "/room/received";
    private const string WatchChain = "watch";
    private static readonly Guid Identity = Guid.Parse("6c1d7f04-2b7e-4a55-9a53-1f0de2f7ab31");

    private SimulatedDisk _disk = new();
    private DiskAilment _ailment;
    private JournalStore? _store;
    private Audit? _audit;
    private RoomDoor? _door;
    private TimeSpan _wallOfRun;
    private Ticks _booted;
    private int _starts;

    /// <summary>How often its machine was started.</summary>
    public int Boots { get; private set; } = 1;

    /// <summary>By how much the wall clock of its machine is off.</summary>
    public TimeSpan Wall { get; set; }

    /// <summary>True when the present run began before the wall clock was set.</summary>
    public bool IsClockSet => Wall != _wallOfRun;

    /// <summary>The clock of the present run, or of the last one.</summary>
    public TimeProvider Time { get; private set; } = TimeProvider.System;

    /// <summary>The watch; null while the watch room is down.</summary>
    public WatchKeeper? Keeper { get; private set; }

    /// <summary>The received journals; null while the watch room is down.</summary>
    public JournalReceiver? Receiver { get; private set; }

    /// <summary>True while something ails its disk.</summary>
    public bool IsAiling => _ailment != DiskAilment.None;

    /// <summary>True when something has ailed its disk since it started.</summary>
    public bool HasAiled { get; private set; }

    /// <summary>Hash of the last entry of the watch.</summary>
    public string Head => _store!.Read(WatchChain) is [.., var last] ? last.Hash : string.Empty;

    /// <summary>A tablet is known from now on.</summary>
    public void Pair(Device device) =>
        new KeptFile<Device[]>(Path.Combine(folder, "devices.json"), []).Change(devices => ((Device[])[.. devices, device], true));

    /// <summary>Starts on what is on the disk.</summary>
    /// <exception cref="StoreFaultException">The disk does not let it.</exception>
    public void Start()
    {
        try
        {
            (_wallOfRun, HasAiled) = (Wall, IsAiling);
            Time = new StillTimers(new SteadyTime(new StandingTime(DemoTime.Start + Wall, now), () => (now() - _booted).Nanoseconds));
            var clock = new RoomClock(Time, BootId);
            _store = JournalStore.OpenAsync(JournalFolder, new StoreOptions(clock)
            {
                Kind = StoreKind.Real, TabletId = Identity, Disk = _disk, Salts = new SeededSalts(seed + ++_starts),
            }).GetAwaiter().GetResult();
            Keeper = WatchKeeper.OpenAsync(_store, Time, new WatchOptions(WatchFolder) { Disk = _disk, BootId = BootId }).GetAwaiter().GetResult();
            Receiver = JournalReceiver.Open(ReceivedFolder, _disk);

            // Refusals are written beside everything else, by a thread of their own: on the simulated disk they would fall between other writes by chance.
            _audit = new Audit(new MemoryJournal(), clock);
            _door = new RoomDoor(new UplinkServices(
                Keeper, Receiver, new Devices(folder, Time), new PairCodes(folder, Time), new Counters(folder), _audit, _ => { }));
        }
        catch (StoreFaultException)
        {
            Kill();
            throw;
        }
    }

    /// <summary>Asks it.</summary>
    public Reply Ask(Letter letter) => _door!.Ask(letter);

    /// <summary>It looks at its deadlines; false when what that raised could not be recorded.</summary>
    public bool Pulse() => Records(() => Keeper!.PulseAsync());

    /// <summary>Somebody takes an alert; null when that could not be recorded, false when there is no such alert.</summary>
    public bool? Take(string alert)
    {
        var exists = false;
        return Records(async () => exists = await Keeper!.TakeAsync(alert, "Runa Holt", "I call.").ConfigureAwait(false)) ? exists : null;
    }

    /// <summary>From now on, or after some operations, something ails its disk.</summary>
    public void Ail(DiskAilment ailment, int after)
    {
        (_ailment, HasAiled) = (ailment, true);
        Ail(_disk, after);
    }

    /// <summary>Nothing ails its disk any more.</summary>
    public void Mend()
    {
        _ailment = DiskAilment.None;
        (_disk.FullFrom, _disk.ErrorAt) = (null, null);
    }

    /// <summary>The process dies; what the operating system has of the files stays.</summary>
    public void Kill() => Stop(_disk.Copy());

    /// <summary>The power goes, and the machine starts anew.</summary>
    public void CutPower(Random chance)
    {
        Stop(_disk.AfterCut(chance));
        (Boots, _booted) = (Boots + 1, now());
    }

    /// <inheritdoc/>
    public void Dispose() => Stop(_disk);

    private string BootId => $"room-{Boots}";

    private static bool Records(Func<Task> ask)
    {
        try
        {
            ask().GetAwaiter().GetResult();
            return true;
        }
        catch (StoreFaultException)
        {
            return false;
        }
    }

    private void Ail(SimulatedDisk disk, int after)
    {
        disk.FullFrom = _ailment == DiskAilment.Full ? disk.Operations + 1 + after : null;
        disk.ErrorAt = _ailment is DiskAilment.Broken or DiskAilment.OneError ? disk.Operations + 1 + after : null;
        disk.ErrorLasts = _ailment == DiskAilment.Broken;
    }

    private void Stop(SimulatedDisk left)
    {
        // The threads of the old process must end; whatever they still write goes to a disk that nobody reads any more.
        Keeper?.DisposeAsync().AsTask().GetAwaiter().GetResult();
        Receiver?.Dispose();
        _audit?.DisposeAsync().AsTask().GetAwaiter().GetResult();
        _store?.DisposeAsync().AsTask().GetAwaiter().GetResult();
        (Keeper, Receiver, _audit, _store, _door) = (null, null, null, null, null);
        _disk = left;
        if (_ailment is DiskAilment.Full or DiskAilment.Broken)
        {
            Ail(_disk, 0);
        }
    }

    private sealed class RoomClock(TimeProvider time, string bootId) : IClock
    {
        public Moment Now() => new(time.GetUtcNow(), bootId, new Ticks(time.GetTimestamp()), new Ticks(time.GetTimestamp()));
    }
}
