using Companion.Contracts;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Journal.Proof;
using Companion.Simulation.Worlds;
using Companion.Tablet.Linking;
using Companion.TestKit;
using Companion.TestKit.Judging;
using Companion.Uplink;
using Companion.Watchroom.Access;

namespace Companion.Simulation.Watched;

/// <summary>A simulated tablet with the real parts of the uplink, which send when the world says so.</summary>
internal sealed class LinkedTablet : IDisposable
{
    private readonly string _folder;
    private readonly Link _link;
    private readonly Dictionary<string, List<ReadOnlyMemory<byte>>> _chains = new(StringComparer.Ordinal);
    private readonly Dictionary<string, IReadOnlyList<ReadOnlyMemory<byte>>> _former = new(StringComparer.Ordinal);
    private StoreCopy? _copy;
    private WatchroomUplink? _uplink;
    private WatchroomLiaison? _liaison;

    public LinkedTablet(int number, int seed, string folder, Link link, Func<Ticks> now)
    {
        (Number, _folder, _link) = (number, folder, link);
        Witness = new TabletWitness(now) { Recorded = entry => Lines(entry.Chain).Add(ExportLine.Of(entry)) };
        Inner = new Worlds.Tablet(DemoSheets.Van(), Witness, (seed * 31) + number)
        {
            Identity = new Guid(number, 0x2b7e, 0x4a55, 0x9a, 0x53, 0x1f, 0x0d, 0xe2, 0xf7, 0xab, 0x31),
            Kind = StoreKind.Real,
        };
        new PairedWatchroom(new Uri("https://room.invalid/"), null, Device).Write(Parts().WatchroomFile);
    }

    /// <summary>Its number, from 1 on.</summary>
    public int Number { get; }

    /// <summary>The name under which it signs.</summary>
    public string Device => $"tablet-{Number}";

    /// <summary>The tablet.</summary>
    public Worlds.Tablet Inner { get; }

    /// <summary>Who watches it.</summary>
    public TabletWitness Witness { get; }

    /// <summary>When it runs again; null while it runs.</summary>
    public Ticks? AwayUntil { get; private set; }

    /// <summary>True while its loop turns.</summary>
    public bool IsRunning => AwayUntil is null;

    /// <summary>When the next beat is due.</summary>
    public Ticks NextBeat { get; set; }

    /// <summary>How many jobs were opened on it.</summary>
    public int Jobs { get; set; }

    /// <summary>The lines of its chains as they were last seen.</summary>
    public IReadOnlyDictionary<string, List<ReadOnlyMemory<byte>>> Chains => _chains;

    /// <summary>What its chains held before its store was put back; empty when it never was.</summary>
    public IReadOnlyDictionary<string, IReadOnlyList<ReadOnlyMemory<byte>>> Former => _former;

    /// <summary>Why entries stay here, in the uplink's words.</summary>
    public string? Trouble => _uplink?.State.OutboxTrouble;

    /// <summary>What it waits for, in a word.</summary>
    public string Doing => !IsRunning ? "away" : Inner.Engine!.Snapshot.Job is { Ended: false } job ? $"{job.Question?.Need.Kind}" : "no job";

    private bool IsAsleep => Inner.Engine is not null && AwayUntil is not null;

    /// <summary>How the watch room knows it.</summary>
    public Device Introduction()
    {
        using var key = DeviceKey.Open(Parts().KeyFile);
        return new Device(Device, Inner.Identity, $"van {Number}", key.PublicKey, DemoTime.Start, null);
    }

    /// <summary>Starts the app on what is on its disk.</summary>
    public void Start()
    {
        AwayUntil = null;
        Oracle.Claim(Inner.Start(), "I12: the store cannot be opened");
        StandsAsItWas();
        var engine = Inner.Engine!;
        var parts = Parts() with
        {
            Source = new JournalOutbox(Inner.Journal!),
            Beat = () => JobBeat.Of(engine.Snapshot, Inner.Clock.Now(), rehearsal: false, id => id),
        };
        _uplink = WatchroomUplink.WithoutLoops(parts);
        _liaison = new WatchroomLiaison(engine, _uplink, parts.Time);
    }

    /// <summary>Its loop turns once.</summary>
    public void Turn()
    {
        Inner.Speaker.Play();
        Inner.Engine!.Pulse();
        Inner.Drain();
    }

    /// <summary>Time passes, in whatever state it is.</summary>
    public void Pass(Ticks span)
    {
        if (IsAsleep)
        {
            Inner.Clock.Time.Sleep(span);
        }
        else
        {
            Inner.Clock.Time.Pass(span);
        }
    }

    /// <summary>Sends a beat and takes the answer.</summary>
    public void SendBeat()
    {
        _uplink!.SendBeatAsync().GetAwaiter().GetResult();
        _link.Rethrow();
        Inner.Drain();
    }

    /// <summary>Sends what waits, once.</summary>
    public void SendEntries()
    {
        _ = _uplink!.SendEntriesAsync().GetAwaiter().GetResult();
        _link.Rethrow();
    }

    /// <summary>It sleeps.</summary>
    public void Sleep(Ticks until) => AwayUntil = until;

    /// <summary>It is off: the process died, or with <paramref name="cut"/> the power went.</summary>
    public void GoOff(Ticks until, Random? cut)
    {
        Refresh();
        EndUplink();
        if (cut is null)
        {
            Inner.Kill();
        }
        else
        {
            Inner.CutPower(cut);
        }

        AwayUntil = until;
    }

    /// <summary>Somebody copies its store, while no job is open.</summary>
    public void CopyStore()
    {
        Refresh();
        _copy = new StoreCopy(Inner.Disk.Copy(), StoreCopy.FilesOf(_folder), _chains.ToDictionary(chain => chain.Key, chain => chain.Value.Count), Witness.Memory.Acknowledged.Count);
    }

    /// <summary>While it is off, somebody puts its store back to the copy, once.</summary>
    public void PutBack()
    {
        if (_copy is not { } copy || _former.Count > 0)
        {
            return;
        }

        foreach (var (chain, lines) in _chains.ToList())
        {
            _former[chain] = [.. lines];
            var left = copy.Lengths.GetValueOrDefault(chain);
            lines.RemoveRange(left, lines.Count - left);
        }

        copy.PutBackFiles(_folder);
        Inner.PutBack(copy.Disk);
        Witness.PutBackTo(copy.Acknowledged);
    }

    /// <summary>Its time away is over. After a cut of the power the operating system starts anew, and the wall clock may say anything.</summary>
    public void ComeBack(bool rebooted, TimeSpan wall)
    {
        if (IsAsleep)
        {
            AwayUntil = null;
            Turn();
            return;
        }

        if (rebooted)
        {
            Inner.Clock.Time.Reboot();
            Inner.Clock.Time.StepWall(wall);
            Witness.Rebooted();
        }

        Start();
    }

    /// <summary>Looks at what is new in the chain that the store writes by itself.</summary>
    public void Refresh()
    {
        if (Inner.Journal is { } journal)
        {
            var seen = Lines(Contracts.Chains.Tablet);
            seen.AddRange(journal.Read(Contracts.Chains.Tablet, seen.Count + 1).Select(ExportLine.Of));
        }
    }

    /// <summary>What the outbox has written down as held by the watch room, by chain.</summary>
    public IReadOnlyDictionary<string, long> Positions() =>
        File.Exists(Parts().PositionsFile) && File.ReadAllText(Parts().PositionsFile).Split('\n', 2) is [_, var text]
            ? System.Text.Json.JsonSerializer.Deserialize<Dictionary<string, long>>(text)!
            : new Dictionary<string, long>();

    /// <inheritdoc/>
    public void Dispose()
    {
        EndUplink();
        Inner.Close();
    }

    /// <summary>What was seen of its journal before must still stand there (I12).</summary>
    private void StandsAsItWas()
    {
        foreach (var chain in Inner.Journal!.ChainNames())
        {
            var seen = Lines(chain);
            var lines = Inner.Journal.Read(chain).Select(ExportLine.Of).ToList();
            Oracle.Claim(seen.Count <= lines.Count && seen.Zip(lines).All(pair => pair.First.Span.SequenceEqual(pair.Second.Span)), $"I12: {chain} lost or changed an entry");
            seen.AddRange(lines.Skip(seen.Count));
        }
    }

    private List<ReadOnlyMemory<byte>> Lines(string chain) => _chains.TryGetValue(chain, out var known) ? known : _chains[chain] = [];

    private void EndUplink()
    {
        _liaison?.DisposeAsync().AsTask().GetAwaiter().GetResult();
        (_liaison, _uplink) = (null, null);
    }

    private UplinkParts Parts() => new(
        _folder, null!, null!, new StillTimers(new StandingTime(DemoTime.Start, () => Inner.Clock.Now().Boot)), () => 0.5)
    {
        Network = () => _link.End(Number),
    };
}
