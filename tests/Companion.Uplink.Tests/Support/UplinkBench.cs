using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Journal;
using Companion.Journal.Proof;
using Companion.TestKit;

namespace Companion.Uplink.Tests.Support;

/// <summary>A tablet's folder, a real journal, and the uplink over them.</summary>
internal sealed class UplinkBench : IAsyncDisposable
{
    private readonly string _folder;
    private readonly Random _random = new(5);
    private long _beats;

    private UplinkBench(string folder, JournalStore journal)
    {
        (_folder, Journal) = (folder, journal);
        Parts = new UplinkParts(Path.Combine(_folder, "uplink"), new StoreSource(Journal), NextBeat, TimeProvider.System, Chance)
        {
            BeatEvery = TimeSpan.FromMilliseconds(50),
            BeatTimeout = TimeSpan.FromMilliseconds(1500),
            AttemptTimeout = TimeSpan.FromMilliseconds(1500),
            Gather = TimeSpan.FromMilliseconds(5),
            FirstPause = TimeSpan.FromMilliseconds(5),
            LongestPause = TimeSpan.FromMilliseconds(40),
        };
    }

    public static async Task<UplinkBench> CreateAsync()
    {
        var folder = Directory.CreateTempSubdirectory("companion-uplink-tests-").FullName;
        return new UplinkBench(folder, await JournalStore.OpenAsync(Path.Combine(folder, "store"), new StoreOptions(new ManualClock()) { Kind = StoreKind.Real }));
    }

    public JournalStore Journal { get; }

    public UplinkParts Parts { get; set; }

    public WatchroomUplink? Uplink { get; private set; }

    public async Task UntilAsync(Func<bool> done, string what)
    {
        var since = TimeProvider.System.GetTimestamp();
        while (!done())
        {
            Assert.True(TimeProvider.System.GetElapsedTime(since) < TimeSpan.FromSeconds(60), $"{what}: {Uplink?.State}");
            await Task.Delay(10);
        }
    }

    public async Task PairAsync(FakeWatchroom room) =>
        Assert.Null(await Pairing.PairAsync(Parts, room.Address, room.Fingerprint, "12345678", Guid.NewGuid(), "van 12"));

    public void Start() => Uplink = WatchroomUplink.Start(Parts);

    public async Task StopAsync()
    {
        if (Uplink is not null)
        {
            await Uplink.DisposeAsync();
        }
    }

    public async Task AddAsync(string chain, int entries)
    {
        await Journal.AppendAsync([.. Enumerable.Range(0, entries).Select(entry => new EntryDraft(
            chain, "step.refused", DemoTime.Start, "boot-1", entry, "{\"reason\":\"é\"}", new Dictionary<string, string> { ["text"] = $"heard {entry}" }))]);

        Uplink?.EntriesAdded();
    }

    /// <summary>The watch room holds exactly what the journal holds, byte for byte.</summary>
    public bool IsWhole(FakeWatchroom room) => Journal.ChainNames().All(chain =>
        room.Held(chain).Select(line => Convert.ToHexString(line)).SequenceEqual(Journal.Read(chain).Select(entry => Convert.ToHexString(ExportLine.Of(entry).Span))));

    public async ValueTask DisposeAsync()
    {
        await StopAsync();
        await Journal.DisposeAsync();
        Directory.Delete(_folder, true);
    }

    private double Chance()
    {
        lock (_random)
        {
            return _random.NextDouble();
        }
    }

    private Beat NextBeat() => new($"job-{Interlocked.Increment(ref _beats)}", null, null, null, null, null, [], [], true, false);

    private sealed class StoreSource(JournalStore journal) : IOutboxSource
    {
        public IReadOnlyList<string> Chains() => journal.ChainNames();

        public IReadOnlyList<OutboxLine> Read(string chain, long fromSequence) =>
            [.. journal.Read(chain, fromSequence).Select(entry => new OutboxLine(entry.Sequence, entry.Hash, ExportLine.Of(entry), entry.Time))];
    }
}
