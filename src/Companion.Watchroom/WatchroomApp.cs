using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Journal.Disk;
using Companion.Watchroom.Access;
using Companion.Watchroom.Proving;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Telling;
using Companion.Watchroom.Watching;
using Companion.Watchroom.Web;

namespace Companion.Watchroom;

/// <summary>The watch room: its store, its watch, its tellings and its pages, put together.</summary>
public sealed class WatchroomApp : IAsyncDisposable
{
    /// <summary>A store that is read and checked for longer is one that hangs, or too large for its disk.</summary>
    private static readonly TimeSpan LongestOpening = TimeSpan.FromMinutes(5);

    /// <summary>A busy machine is not rung about; one whose disk hangs is.</summary>
    private static readonly TimeSpan LongestStandstill = TimeSpan.FromSeconds(10);

    private readonly Stack<IAsyncDisposable> parts = new();
    private OpeningJournal journal = null!;

    private WatchroomApp()
    {
    }

    /// <summary>The address of the board on this machine.</summary>
    public Uri Address { get; private set; } = null!;

    /// <summary>SHA-256 of the certificate, lower-case hex: what a tablet pins.</summary>
    public string Fingerprint { get; private set; } = string.Empty;

    /// <summary>What is amiss, in plain words: damage in the store, and who cannot be told. All of it is known once <see cref="Recording"/> is done.</summary>
    public IReadOnlyList<string> Findings => [.. journal.Findings.Select(Words).Concat(Services.Faults()).Distinct()];

    /// <summary>Done when the store is open and verified, and everything is recorded; faulted when it cannot be.</summary>
    public Task Recording { get; private set; } = Task.CompletedTask;

    /// <summary>The watch.</summary>
    public IWatchKeeper Keeper { get; private set; } = null!;

    internal WatchroomServices Services { get; private set; } = null!;

    internal JournalStore Journal => journal.Store;

    /// <summary>What serves the pages and the uplink.</summary>
    internal WebApplication Web { get; private set; } = null!;

    /// <summary>Opens the store and begins to watch, to tell and to serve.</summary>
    /// <exception cref="Companion.Engine.Ports.StoreFaultException">The store cannot be used: the message says what to do.</exception>
    public static async Task<WatchroomApp> StartAsync(WatchroomOptions options)
    {
        var app = new WatchroomApp();
        try
        {
            await app.OpenAsync(options).ConfigureAwait(false);
            return app;
        }
        catch
        {
            await app.DisposeAsync().ConfigureAwait(false);
            throw;
        }
    }

    /// <summary>Runs until the process is told to end.</summary>
    public Task WaitForShutdownAsync() => Web.WaitForShutdownAsync();

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        while (parts.TryPop(out var part))
        {
            await part.DisposeAsync().ConfigureAwait(false);
        }
    }

    private async Task OpenAsync(WatchroomOptions options)
    {
        PrivateFolder.Make(options.Store);
        var time = options.Time ?? new SteadyTime();
        var began = time.GetUtcNow();
        var clock = new WatchroomClock(time);
        var certificate = ServerCertificate.Load(options.Store, options.Certificate, time.GetUtcNow());
        var folder = Path.Combine(options.Store, "journal");
        var mayTakeUp = !JournalStore.IsOpen(options.Disk, folder);
        var opening = JournalStore.OpenAsync(folder, new StoreOptions(clock)
        {
            Kind = StoreKind.Real,
            Disk = options.Disk,
            Program = "the watch room",
            Otherwise = "move its folder to another disk",
        });
        journal = Keep(new OpeningJournal(opening));
        var watch = new WatchOptions(PrivateFolder.Make(Path.Combine(options.Store, "watch"))) { Disk = options.Disk };
        var keeper = Keep((mayTakeUp ? WatchKeeper.TryTakeUp(folder, opening, time, watch) : null)
            ?? await WatchKeeper.OpenAsync(await opening.ConfigureAwait(false), time, watch).ConfigureAwait(false));
        var receiver = JournalReceiver.Open(PrivateFolder.Make(Path.Combine(options.Store, "received")));
        Keep(new Disposer(receiver));
        var audit = Keep(new Audit(journal, clock));
        bool IsWatching() => time.GetUtcNow() - keeper.LastPulse < TimeSpan.FromSeconds(2);
        var teller = Keep(new Teller(
            new RingRoundReader(options.Store), keeper, new OwnTrouble(SignsOf(keeper, journal, IsWatching), () => keeper.View, time), journal, clock, time));
        var people = new People(options.Store, time);
        var devices = new Devices(options.Store, time);
        var signer = Keep(new CounterSigner(options.Store, receiver, devices.All().Select(device => device.Name), audit, time));
        var photos = new Checking.PhotoDesk();
        Keep(new Disposer(photos));
        string[] Faults() => [.. FaultsOf(keeper, journal, audit, teller), .. new[] { signer.Fault, people.Fault }.OfType<string>()];
        Services = new WatchroomServices(keeper, receiver, devices, new PairCodes(options.Store, time), new Counters(options.Store))
        {
            People = people,
            Sessions = new Sessions(options.Store, people, time),
            Audit = audit,
            Comments = new Reviewing.Comments(journal, clock, new ReceivedRecords(devices, receiver, checksEnds: false)),
            Acts = new ActSpool(options.Store),
            Teller = teller,
            CounterSigner = signer,
            Photos = photos,
            Store = options.Store,
            Journal = journal,
            Time = time,
            Faults = Faults,
            Troubles = new RoomTroubles(() => RoomTroubles.Of(Faults(), teller, keeper.View, began), time),
            IsWatching = IsWatching,
        };
        Keeper = keeper;
        Recording = keeper.Recording;
        Fingerprint = certificate.GetCertHashString(HashAlgorithmName.SHA256).ToLowerInvariant();
        Web = WatchroomWeb.Build(options, Services, certificate);
        Keep(new Disposer(certificate));
        Keep(new Stopper(Web));
        await Web.StartAsync().ConfigureAwait(false);
        Address = WatchroomWeb.Address(Web, options);
    }

    private static string[] FaultsOf(WatchKeeper keeper, OpeningJournal journal, Audit audit, Teller teller) =>
    [
        .. new[] { keeper.Fault, journal.Failure, audit.Fault }.OfType<string>().Distinct().Select(fault => $"{RoomTroubles.NotRecorded}: {fault}"),
        .. new[] { keeper.Finding, teller.Fault }.OfType<string>(),
        .. journal.Findings.Where(finding => finding.Severe).Select(Words),
        .. teller.Round.Faults,
    ];

    private static TroubleSign[] SignsOf(WatchKeeper keeper, OpeningJournal journal, Func<bool> isWatching) =>
    [
        new("record", TimeSpan.Zero, () => (keeper.DiskFault ?? journal.Failure) is { } fault ? $"Its store fails: {fault}" : null),
        new("opening", LongestOpening, () => keeper.DiskFault is null && keeper.Fault is { } words ? $"Nothing is being recorded: {words}" : null),
        new("watch", LongestStandstill, () => isWatching() ? null : "Deadlines are not being looked at: nothing overdue is raised."),
    ];

    private static string Words(StoreFinding finding) => $"{finding.Message} {finding.Detail}".TrimEnd();

    private T Keep<T>(T part)
        where T : IAsyncDisposable
    {
        parts.Push(part);
        return part;
    }

    private sealed class Disposer(IDisposable inner) : IAsyncDisposable
    {
        public ValueTask DisposeAsync()
        {
            inner.Dispose();
            return ValueTask.CompletedTask;
        }
    }

    /// <summary>Pages that are open must not hold the end up for long.</summary>
    private sealed class Stopper(WebApplication web) : IAsyncDisposable
    {
        public async ValueTask DisposeAsync()
        {
            using var soon = new CancellationTokenSource(TimeSpan.FromSeconds(2));
            await web.StopAsync(soon.Token).ConfigureAwait(false);
            await web.DisposeAsync().ConfigureAwait(false);
        }
    }
}
