using System.Collections.Immutable;
using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Simulation.Disk;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Watching.Support;

/// <summary>A keeper over a journal on a simulated disk, with a clock that the test moves. Beats come from the tablet "van-1" at "job-1".</summary>
public sealed class WatchBench : IAsyncDisposable
{
    public const string Device = "van-1";
    public const string Job = "job-1";

    private const string StoreFolder = "/watch/store";
    private const string BeatsFolder = "/watch/beats";

    private readonly List<JournalStore> abandoned = [];
    private readonly List<WatchKeeper> abandonedKeepers = [];
    private JournalStore store = null!;
    private TimeSpan stalledAfter;

    public SettableTime Time { get; } = new();

    public SimulatedDisk Disk { get; private set; } = new();

    public WatchKeeper Keeper { get; private set; } = null!;

    public JournalStore Store => store;

    public ImmutableArray<Alert> Alerts => Keeper.View.Alerts;

    public Watch? Watch => Keeper.View.Watches.FirstOrDefault(watch => watch.Device == Device);

    /// <summary>Starts. Unless a test asks for it, the long steps in which tests let time pass do not count as a program that stalled.</summary>
    public static async Task<WatchBench> Start(double seconds = 0, double stalledAfter = 1e9)
    {
        var bench = new WatchBench { stalledAfter = SettableTime.Span(stalledAfter) };
        bench.Time.Seconds = seconds;
        await bench.Open();
        return bench;
    }

    /// <summary>A second of the bench's clock as a time.</summary>
    public static DateTimeOffset At(double seconds) => SettableTime.Zero + SettableTime.Span(seconds);

    public static Beat BeatOf(
        long? checkIn, double age = 0, int interval = 900, int margin = 120, string? job = Job, bool rehearsal = false, params Call[] calls) => new(
        job, job is null ? null : "R. Ferrand", job is null ? null : "working", job is null ? null : "ring road, marker 14", null,
        checkIn is { } sequence ? new CheckInStatement(sequence, (long)Math.Round(age * 1000), interval, margin, "working") : null,
        [], calls, Recording: true, rehearsal);

    public async Task<BeatAnswer> Beat(double at, long? checkIn, double age = 0) => await Send(at, BeatOf(checkIn, age));

    public async Task<BeatAnswer> Send(double at, Beat beat, string device = Device)
    {
        Time.Seconds = at;
        return await Keeper.BeatAsync(device, beat);
    }

    public Task Pulse(double at)
    {
        Time.Seconds = at;
        return Keeper.PulseAsync();
    }

    /// <summary>Lets the keeper watch up to a second, with a beat that says nothing new every ten seconds.</summary>
    public async Task WatchUntil(double until, long checkIn, double from)
    {
        for (var second = from; second <= until; second++)
        {
            if (second % 10 == 0)
            {
                await Beat(second, checkIn, second - from);
            }

            await Pulse(second);
        }
    }

    /// <summary>The watch room stops: killed, it leaves the files as they are at this moment; else it closes them.</summary>
    public async Task Restart(double at, bool isKilled = true)
    {
        if (isKilled)
        {
            Disk = Disk.Copy();
            abandoned.Add(store);
            abandonedKeepers.Add(Keeper);
        }
        else
        {
            await Keeper.DisposeAsync();
            await store.DisposeAsync();
        }

        Time.Seconds = at;
        await Open();
    }

    /// <summary>Goes on with another disk, as after a cut of the power.</summary>
    public async Task RestartOn(SimulatedDisk disk, double at)
    {
        abandoned.Add(store);
        abandonedKeepers.Add(Keeper);
        Disk = disk;
        Time.Seconds = at;
        await Open();
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var keeper in abandonedKeepers.Append(Keeper))
        {
            await keeper.DisposeAsync();
        }

        foreach (var one in abandoned.Append(store))
        {
            await one.DisposeAsync();
        }
    }

    private async Task Open()
    {
        store = await JournalStore.OpenAsync(StoreFolder, new StoreOptions(new BenchClock(Time)) { Kind = StoreKind.Real, Disk = Disk });
        Keeper = await WatchKeeper.OpenAsync(store, Time, new WatchOptions(BeatsFolder) { Disk = Disk, StalledAfter = stalledAfter });
    }

    private sealed class BenchClock(SettableTime time) : IClock
    {
        public Moment Now() => new(time.GetUtcNow(), "boot-one", new Ticks(time.GetTimestamp() * 100), new Ticks(time.GetTimestamp() * 100));
    }
}
