using Companion.Contracts;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Domain.Sheets;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Screens;
using Companion.Screens.Starting;
using Companion.Simulation.Checking;
using Companion.Simulation.Disk;
using Companion.Simulation.Ports;
using Companion.TestKit;

namespace Companion.Simulation.Worlds;

/// <summary>
/// A whole tablet: the real rules, loop, journal and screens over a simulated disk, clock, voice and ear. It can be killed, cut from
/// its power, and started again on what is left of its disk.
/// </summary>
internal sealed class Tablet
{
    /// <summary>Where the store lies on the simulated disk.</summary>
    public const string Folder = "/store";

    private readonly ITabletWitness _judge;
    private readonly FakeSheets _sheets;
    private readonly int _seed;
    private int _starts;
    private TappedJournal? _journal;

    public Tablet(Sheet sheet, ITabletWitness judge, int seed)
    {
        _judge = judge;
        _seed = seed;
        _sheets = new FakeSheets(sheet);
        Speaker = new SimulatedSpeaker(Clock) { Asked = judge.Said };
    }

    /// <summary>The store's identity.</summary>
    public Guid Identity { get; init; } = Guid.Parse("3f0a9b52-6a0e-4d4c-8f6b-9b1f5f7c2a10");

    /// <summary>Of which kind the store is.</summary>
    public StoreKind Kind { get; init; } = StoreKind.Rehearsal;

    /// <summary>The clocks.</summary>
    public ManualClock Clock { get; } = new();

    /// <summary>The disk.</summary>
    public SimulatedDisk Disk { get; private set; } = new();

    /// <summary>The voice.</summary>
    public SimulatedSpeaker Speaker { get; }

    /// <summary>What may be said now.</summary>
    public FakeEar Ear { get; private set; } = new();

    /// <summary>The loop; null while the store cannot be opened.</summary>
    public JobEngine? Engine { get; private set; }

    /// <summary>The screen on the tablet and the one on the arm.</summary>
    public IReadOnlyList<JobScreen> Screens { get; private set; } = [];

    /// <summary>The store.</summary>
    public TappedJournal? Journal => _journal;

    /// <summary>Starts the app on the disk as it is; false when the store cannot be opened.</summary>
    public bool Start()
    {
        JournalStore store;
        try
        {
            store = JournalStore.OpenAsync(Folder, new StoreOptions(Clock)
            {
                Kind = Kind,
                TabletId = Identity,
                Disk = Disk,
                Salts = new SeededSalts(_seed + ++_starts),
            }).GetAwaiter().GetResult();
        }
        catch (StoreFaultException refused)
        {
            _judge.CannotOpen(refused.Message);
            return false;
        }

        _journal = new TappedJournal(store) { Before = _judge.Appending, After = _judge.Durable };
        Ear = new FakeEar();
        Engine = new JobEngine(new EngineParts(_journal, Clock, Ear, Speaker, _sheets, new SeededChance(_seed + _starts)));
        Engine.Decided += _judge.Decided;
        Engine.Changed += _judge.Settled;
        Speaker.Inbox = Engine;
        Screens = [.. Enumerable.Range(0, 2).Select(_ => new JobScreen(ScreenParts.Of(Engine, Clock, _sheets, Opening)))];
        _judge.Reopened(_journal);
        Engine.Start();
        Drain();
        return true;
    }

    /// <summary>Lets the loop take all that waits. With a hanging disk it does not come back by itself.</summary>
    public void Drain()
    {
        var drained = Engine!.DrainAsync();
        if (!drained.IsCompleted)
        {
            HangingDisk.Outlast(this, drained);
        }

        drained.GetAwaiter().GetResult();
    }

    /// <summary>The process dies; what the operating system has of the files stays.</summary>
    public void Kill() => Stop(Disk.Copy());

    /// <summary>The power goes; of what was not synced, chance keeps some.</summary>
    public void CutPower(Random chance) => Stop(Disk.AfterCut(chance));

    /// <summary>While it is off, somebody puts its disk back to an older copy.</summary>
    public void PutBack(SimulatedDisk older) => Disk = older.Copy();

    /// <summary>The app ends as it should.</summary>
    public void Close()
    {
        Stop(Disk);
    }

    private static JobOpening Opening { get; } = new(
        [new("crew-4", "Ines")],
        [new("crew-5", "Marit")],
        [new KitList("standard", "standard kit", DemoKit.TwoTesters())],
        true,
        ExposurePolicy.SecondPerson,
        RatingPolicy.AcFigure,
        () => "job-1",
        () => DemoTime.Start);

    private void Stop(SimulatedDisk left)
    {
        Speaker.Silence();
        Screens = [];
        if (Engine is not null)
        {
            Engine.Decided -= _judge.Decided;
            Engine.Changed -= _judge.Settled;
            Engine = null;
        }

        // The threads of the old process must end; whatever they still write goes to a disk that nobody reads any more.
        _journal?.DisposeAsync().AsTask().GetAwaiter().GetResult();
        _journal = null;
        Disk = left;
    }
}
