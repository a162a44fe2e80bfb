using Companion.Contracts;
using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Journal;
using Companion.Watchroom.Tests.Watching.Support;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Watching;

/// <summary>The keeper's own clock and its own looking, with real time and a real disk.</summary>
public sealed class PollerTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    // I11: setting the clock of the watch room's machine moves no deadline of a running watch.
    [Fact]
    public void A_wall_clock_that_is_set_while_the_program_runs_changes_nothing()
    {
        var wall = new SettableTime { Seconds = 0 };
        var steady = new SteadyTime(wall);
        wall.Seconds = 365 * 24 * 3600;
        Assert.InRange(steady.GetUtcNow(), SettableTime.Zero, SettableTime.Zero.AddHours(1));
        var before = steady.GetUtcNow();
        Assert.True(SpinWait.SpinUntil(() => steady.GetUtcNow() > before, Patience));
    }

    [Fact]
    public async Task Deadlines_are_looked_at_without_anybody_asking_and_somebody_can_see_that_they_are()
    {
        var folder = Directory.CreateTempSubdirectory("companion-watch-");
        var time = new SteadyTime();
        var store = await JournalStore.OpenAsync(Path.Combine(folder.FullName, "store"), new StoreOptions(new Still()) { Kind = StoreKind.Real });
        var options = new WatchOptions(Path.Combine(folder.FullName, "beats")) { SilentAfter = TimeSpan.FromMilliseconds(200) };
        await using (var keeper = await WatchKeeper.OpenAsync(store, time, options))
        {
            var told = new SemaphoreSlim(0);
            keeper.Changed += () => told.Release();
            var opened = keeper.LastPulse;
            await keeper.BeatAsync(WatchBench.Device, WatchBench.BeatOf(1, age: 2000));
            while (keeper.View.Alerts.Length < 2)
            {
                Assert.True(await told.WaitAsync(Patience), "nobody was told");
            }

            Assert.Equal([AlertKind.Overdue, AlertKind.SilentLink], keeper.View.Alerts.Select(alert => alert.Kind).Order());
            Assert.True(SpinWait.SpinUntil(() => keeper.LastPulse > opened, Patience));
            await keeper.DisposeAsync();
            await Assert.ThrowsAsync<ObjectDisposedException>(() => keeper.PulseAsync());
        }

        await store.DisposeAsync();
        folder.Delete(recursive: true);
    }

    [Fact]
    public async Task A_rehearsal_store_is_refused()
    {
        var folder = Directory.CreateTempSubdirectory("companion-watch-");
        await using (var store = await JournalStore.OpenAsync(folder.FullName, new StoreOptions(new Still()) { Kind = StoreKind.Rehearsal }))
        {
            await Assert.ThrowsAsync<ArgumentException>(() => WatchKeeper.OpenAsync(store, new SettableTime(), new WatchOptions(folder.FullName)));
        }

        folder.Delete(recursive: true);
    }

    private sealed class Still : IClock
    {
        public Moment Now() => new(SettableTime.Zero, "boot-one", new Ticks(1), new Ticks(1));
    }
}
