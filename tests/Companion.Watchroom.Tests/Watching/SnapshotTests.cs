using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.TestKit;
using Companion.Watchroom.Tests.Watching.Support;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Watching;

/// <summary>A start by the snapshot of the watch, before the store is open (I10, I12, I16).</summary>
public sealed class SnapshotTests : IDisposable
{
    private const string HelpId = "call:van-1:job-1:9";
    private readonly string folder = Directory.CreateTempSubdirectory("companion-snapshot-").FullName;
    private readonly SettableTime time = new();
    private readonly TaskCompletionSource<JournalStore> opening = new();

    private string Store => Path.Combine(folder, "store");

    private string SnapshotFile => Path.Combine(folder, "watch", "watch.snapshot");

    private WatchOptions Options => new(Path.Combine(folder, "watch")) { SnapshotEvery = 3, StalledAfter = TimeSpan.FromDays(1) };

    [Fact]
    public async Task A_start_by_the_snapshot_watches_while_the_store_is_still_closed_and_records_once_it_is_open()
    {
        await LiveAsync();
        time.Seconds = 1021;
        await using var keeper = WatchKeeper.TryTakeUp(Store, opening.Task, time, Options)!;

        // Blind for longer than two seconds: the grace holds here too.
        await keeper.PulseAsync();
        Assert.Equal("Ilka Brandt", Assert.Single(keeper.View.Alerts, alert => alert.Id == HelpId).Taken!.Person);
        Assert.NotNull(keeper.Fault);
        time.Seconds = 1052;
        await Assert.ThrowsAsync<StoreFaultException>(() => keeper.PulseAsync());
        Assert.Single(keeper.View.Alerts, alert => alert.Kind == AlertKind.Overdue);
        await Assert.ThrowsAsync<StoreFaultException>(async () => await keeper.TakeAsync(HelpId, "Runa Holt", "no"));
        Assert.Equal("Ilka Brandt", Assert.Single(keeper.View.Alerts, alert => alert.Id == HelpId).Taken!.Person);

        await using var store = await OpenAsync();
        opening.SetResult(store);
        await RecordingAsync(keeper);
        Assert.Null(keeper.Fault);
        Assert.Null(keeper.Finding);
        Assert.Single(store.Read("watch"), entry => entry.Type == "watch.alerted" && entry.Data.Contains("overdue:", StringComparison.Ordinal));
        Assert.Contains(store.Read("watch"), entry => entry.Type == "watch.blind");
        Assert.Single(keeper.View.Alerts, alert => alert.Kind == AlertKind.Overdue);
    }

    // A beat is answered when what it states is durable. Killed before the store was open, the watch room knew nothing of a call that it had answered to.
    [Fact]
    public async Task A_call_is_not_acknowledged_before_it_is_in_the_record_however_often_it_is_sent()
    {
        await LiveAsync();
        time.Seconds = 1021;
        await using var keeper = WatchKeeper.TryTakeUp(Store, opening.Task, time, Options)!;
        var beat = WatchBench.BeatOf(10, calls: new Call("job-1/20", CallKind.Help, 0));
        for (var sent = 0; sent < 3; sent++)
        {
            await Assert.ThrowsAsync<StoreFaultException>(async () => await keeper.BeatAsync(WatchBench.Device, beat));
            Assert.Single(keeper.View.Alerts, alert => alert.Id == "call:van-1:job-1:20");
        }

        // What states no call is answered all the same.
        await keeper.BeatAsync(WatchBench.Device, WatchBench.BeatOf(10));

        await using var store = await OpenAsync();
        opening.SetResult(store);
        await RecordingAsync(keeper);
        await keeper.BeatAsync(WatchBench.Device, beat);
        Assert.Single(store.Read("watch"), entry => entry.Type == "watch.alerted" && entry.Data.Contains("job-1:20", StringComparison.Ordinal));
    }

    [Fact]
    public async Task What_the_chain_gained_after_the_snapshot_is_known_too()
    {
        await LiveAsync(more: 2);
        time.Seconds = 1021;
        await using var keeper = WatchKeeper.TryTakeUp(Store, opening.Task, time, Options)!;
        Assert.Equal(12, Assert.Single(keeper.View.Watches).CheckIn);
    }

    [Theory]
    [InlineData("missing")]
    [InlineData("damaged")]
    [InlineData("cut short")]
    [InlineData("of another chain")]
    [InlineData("ahead of the witness")]
    public async Task A_snapshot_that_cannot_be_believed_is_passed_over(string what)
    {
        await LiveAsync(more: 1);
        switch (what)
        {
            case "missing":
                File.Delete(SnapshotFile);
                break;
            case "damaged":
                var bytes = await File.ReadAllBytesAsync(SnapshotFile);
                bytes[^20] ^= 1;
                await File.WriteAllBytesAsync(SnapshotFile, bytes);
                break;
            case "cut short":
                await File.WriteAllBytesAsync(SnapshotFile, (await File.ReadAllBytesAsync(SnapshotFile))[..^40]);
                break;
            case "of another chain":
                Change(mark => mark with { Hash = new string('a', 64) });
                break;
            default:
                Change(mark => mark with { Offset = 1 << 30 });
                break;
        }

        Assert.Null(WatchKeeper.TryTakeUp(Store, opening.Task, time, Options));
        await using var store = await OpenAsync();
        await using var keeper = await WatchKeeper.OpenAsync(store, time, Options);
        Assert.Equal(11, Assert.Single(keeper.View.Watches).CheckIn);
    }

    [Fact]
    public async Task A_snapshot_that_the_chain_is_far_ahead_of_is_passed_over()
    {
        await LiveAsync();
        await using (var witness = new FileStream(Path.Combine(Store, "companion.witness"), FileMode.Append))
        {
            witness.SetLength(witness.Length + WitnessTail.Longest);
        }

        Assert.Null(WatchKeeper.TryTakeUp(Store, opening.Task, time, Options));
    }

    [Fact]
    public async Task When_snapshot_and_chain_disagree_the_chain_counts_and_it_is_told()
    {
        await LiveAsync();
        var snapshot = WatchSnapshot.Read(Options.Disk, Options.Directory)!;
        (snapshot with { Book = WatchBook.Empty }).Write(Options.Disk, Options.Directory);
        await using var keeper = WatchKeeper.TryTakeUp(Store, opening.Task, time, Options)!;
        Assert.Empty(keeper.View.Watches);

        await using var store = await OpenAsync();
        opening.SetResult(store);
        await RecordingAsync(keeper);
        Assert.NotNull(keeper.Finding);
        Assert.Equal(10, Assert.Single(keeper.View.Watches).CheckIn);
    }

    [Fact]
    public async Task A_store_that_cannot_be_opened_leaves_the_watch_in_memory_and_says_so()
    {
        await LiveAsync();
        await using var keeper = WatchKeeper.TryTakeUp(Store, opening.Task, time, Options)!;
        opening.SetException(new StoreFaultException("The disk is gone."));
        await Assert.ThrowsAsync<StoreFaultException>(() => keeper.Recording);
        Assert.Equal("The disk is gone.", keeper.Fault);
        time.Seconds = 2000;
        await Assert.ThrowsAsync<StoreFaultException>(() => keeper.PulseAsync());
        Assert.Contains(keeper.View.Alerts, alert => alert.Kind == AlertKind.Overdue);
    }

    [Fact]
    public async Task Erasing_texts_from_the_record_removes_the_snapshot()
    {
        await LiveAsync();
        Assert.True(File.Exists(SnapshotFile));
        await using var store = await OpenAsync();
        await using var keeper = await WatchKeeper.OpenAsync(store, time, Options);
        Assert.True(await store.EraseSealedAsync("watch", store.Read("watch").First(entry => entry.Sealed.Count > 0).Sequence));
        Assert.False(File.Exists(SnapshotFile));
    }

    // Of somebody who is out it lies beside the beats, which go with the job.
    [Fact]
    public async Task Where_a_tablet_was_is_known_after_a_restart_and_not_from_the_snapshot()
    {
        await using (var store = await OpenAsync())
        {
            await using var keeper = await WatchKeeper.OpenAsync(store, time, Options);
            for (var checkIn = 1; checkIn <= 10; checkIn++)
            {
                await keeper.BeatAsync(WatchBench.Device, WatchBench.BeatOf(checkIn) with { Where = new Whereabouts("51.76215", "-1.31887", 12, 0) });
            }
        }

        Assert.Null(Assert.Single(WatchSnapshot.Read(Options.Disk, Options.Directory)!.Book.Live.Values.SelectMany(some => some)).Shown.Last.Where);
        await using var again = WatchKeeper.TryTakeUp(Store, opening.Task, time, Options)!;
        Assert.Equal("51.76215", Assert.Single(again.View.Watches).Last.Where!.Latitude);
    }

    public void Dispose() => Directory.Delete(folder, recursive: true);

    /// <summary>Ten check-ins and a call that was taken, a snapshot, then so many check-ins more.</summary>
    private async Task LiveAsync(int more = 0)
    {
        await using (var store = await OpenAsync())
        {
            await using var keeper = await WatchKeeper.OpenAsync(store, time, Options);
            await keeper.BeatAsync(WatchBench.Device, WatchBench.BeatOf(1, calls: new Call("job-1/9", CallKind.Help, 0)));
            await keeper.TakeAsync(HelpId, "Ilka Brandt", "on the way");
            for (var checkIn = 2; checkIn <= 10; checkIn++)
            {
                await keeper.BeatAsync(WatchBench.Device, WatchBench.BeatOf(checkIn));
            }
        }

        if (more > 0)
        {
            await using var store = await OpenAsync();
            await using var keeper = await WatchKeeper.OpenAsync(store, time, Options with { SnapshotEvery = int.MaxValue });
            for (var checkIn = 11; checkIn < 11 + more; checkIn++)
            {
                await keeper.BeatAsync(WatchBench.Device, WatchBench.BeatOf(checkIn));
            }
        }
    }

    private void Change(Func<WitnessMark, WitnessMark> change)
    {
        var snapshot = WatchSnapshot.Read(Options.Disk, Options.Directory)!;
        (snapshot with { Mark = change(snapshot.Mark) }).Write(Options.Disk, Options.Directory);
    }

    /// <summary>The bench's clock fires no timers: the pulses that a running watch room makes by itself are made here.</summary>
    private static async Task RecordingAsync(WatchKeeper keeper)
    {
        while (!keeper.Recording.IsCompleted)
        {
            try
            {
                await keeper.PulseAsync();
            }
            catch (StoreFaultException)
            {
                // Not yet.
            }

            await Task.Delay(10);
        }

        await keeper.Recording;
    }

    private Task<JournalStore> OpenAsync() => JournalStore.OpenAsync(Store, new StoreOptions(new ManualClock()) { Kind = StoreKind.Real });
}
