using Companion.Contracts;
using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Time;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.Journal.Tests.Support;
using Companion.Simulation.Disk;
using Companion.TestKit;

namespace Companion.Journal.Tests;

/// <summary>I16 with the engine on the real store, in real time, on a disk that takes its time.</summary>
public sealed class SlowDiskTests
{
    /// <summary>An append syncs four times, and the recorder waits 2 s for it: what the machine itself takes must fit in beside.</summary>
    private static readonly TimeSpan SlowSync = TimeSpan.FromMilliseconds(100);

    private static readonly TimeSpan PulseEvery = TimeSpan.FromMilliseconds(100);

    [Fact]
    public async Task On_a_slow_disk_everything_is_recorded_and_nobody_is_alarmed()
    {
        var disk = new WrappedDisk(new SimulatedDisk());
        await using var store = await Stores.Open(disk);
        await using var tablet = new RunningTablet(store);
        tablet.Engine.Post(Opening());
        await tablet.Until(snapshot => snapshot.Job?.Question is not null);
        var before = store.Read("job-1").Count;
        var slow = 0;
        disk.FileSync = sync =>
        {
            Interlocked.Increment(ref slow);
            Thread.Sleep(SlowSync);
            sync();
        };
        tablet.Engine.Post(tablet.Answer(Phrase.SayAgain));

        // Entries of the opening may still have been on their way: only syncs since then were slow.
        await tablet.Until(snapshot => (store.Read("job-1").Count > before && Volatile.Read(ref slow) >= 3) || !snapshot.Recording);
        Assert.True(tablet.Engine.Snapshot.Recording, tablet.Engine.Snapshot.Trouble);
        Assert.Empty(tablet.Speaker.Alarms);
    }

    /// <summary>The engine's own time to it is 2 s, asserted under a simulated clock; here other tests share the cores.</summary>
    [Fact]
    public async Task A_sync_that_hangs_is_said_and_a_stop_still_sounds()
    {
        var disk = new WrappedDisk(new SimulatedDisk());
        using var hanging = new ManualResetEventSlim();
        var store = await Stores.Open(disk);
        await using (var tablet = new RunningTablet(store))
        {
            tablet.Engine.Post(Opening());
            await tablet.Until(snapshot => snapshot.Job?.Question is not null);
            disk.FileSync = sync =>
            {
                hanging.Wait();
                sync();
            };
            var began = System.Diagnostics.Stopwatch.StartNew();
            tablet.Engine.Post(tablet.Answer(Phrase.SayAgain));
            tablet.Engine.Post(tablet.Answer(Phrase.Stop));
            await tablet.Until(snapshot => !snapshot.Recording);
            Assert.InRange(began.Elapsed.TotalSeconds, 1.5, 15);
            Assert.Contains(tablet.Speaker.Alarms, words => words.Contains("Not recording", StringComparison.Ordinal));
            Assert.Contains(tablet.Speaker.Alarms, words => words.Contains("stop", StringComparison.OrdinalIgnoreCase));
        }

        hanging.Set();
        await store.DisposeAsync();
    }

    private static OpenJob Opening() =>
        new("job-1", "crew-4", "Ines", "Marit", true, default, default, DemoKit.Complete(), DemoTime.Start);

    /// <summary>The engine's loop and its pulse over a store, in real time, with fakes for voice and ear.</summary>
    private sealed class RunningTablet : IAsyncDisposable
    {
        private readonly CancellationTokenSource end = new();
        private readonly RunningClock clock = new();
        private readonly Task loop;
        private readonly Timer pulse;

        public RunningTablet(IJournal journal)
        {
            Engine = new JobEngine(new EngineParts(journal, clock, new FakeEar(), Speaker, new FakeSheets(DemoSheets.Van()), new SeededChance(1)));
            Speaker.Inbox = Engine;
            Engine.Start();
            loop = Task.Run(() => Engine.RunAsync(end.Token));
            pulse = new Timer(_ => Engine.Pulse(), null, PulseEvery, PulseEvery);
        }

        public JobEngine Engine { get; }

        public FakeSpeaker Speaker { get; } = new();

        public Answer Answer(Phrase phrase) => new()
        {
            Question = Engine.Snapshot.Job?.Question?.Sequence ?? 0,
            Began = clock.Now(),
            By = By.Touch,
            Phrase = phrase,
        };

        public async Task Until(Func<Snapshot, bool> reached)
        {
            var patience = TimeSpan.FromSeconds(30);
            for (var waited = TimeSpan.Zero; !reached(Engine.Snapshot); waited += PulseEvery / 2)
            {
                Assert.True(waited < patience, "the engine never came there");
                await Task.Delay(PulseEvery / 2);
            }
        }

        public async ValueTask DisposeAsync()
        {
            await pulse.DisposeAsync();
            await end.CancelAsync();
            await loop;
            end.Dispose();
        }
    }

    private sealed class RunningClock : IClock
    {
        private readonly System.Diagnostics.Stopwatch running = System.Diagnostics.Stopwatch.StartNew();

        public Moment Now()
        {
            var passed = new Ticks((long)running.Elapsed.TotalNanoseconds);
            return new Moment(DemoTime.Start + running.Elapsed, "boot-one", passed, passed);
        }
    }
}
