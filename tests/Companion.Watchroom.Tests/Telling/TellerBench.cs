using System.Collections.Immutable;
using Companion.Contracts.Uplink;
using Companion.TestKit;
using Companion.Watchroom.Telling;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Tests.Telling;

/// <summary>The ring-round alone, by a clock that runs <see cref="Speed"/> times as fast: half a minute is 7.5 s, which a receiver on a busy machine does not need.</summary>
internal sealed class TellerBench : IAsyncDisposable
{
    public const int Speed = 4;

    private readonly string folder = Directory.CreateTempSubdirectory("companion-teller-").FullName;
    private readonly FixedKeeper keeper = new();
    private readonly FastTime time = new();
    private Teller teller = null!;

    public string Folder => folder;

    /// <summary>Seconds of the fast clock since the alert was raised.</summary>
    public double Seconds => (time.GetUtcNow() - keeper.View.Alerts[0].Raised).TotalSeconds;

    public MemoryJournal Journal { get; } = new();

    public ImmutableArray<TellingState> States => teller.States("alert-1");

    /// <summary>Begins with a call for help that was raised now.</summary>
    public TellerBench Start(string targets)
    {
        File.WriteAllText(Path.Combine(folder, RingRound.SecretFile), WebhookReceiver.Secret);
        File.WriteAllText(Path.Combine(folder, RingRound.TargetsFile), targets);
        keeper.Show(new Alert("alert-1", AlertKind.Help, "van-1", "job-1", "Maren Oake", null, time.GetUtcNow(), "", null));
        teller = new Teller(new RingRoundReader(folder), keeper, new OwnTrouble([], () => keeper.View, time), Journal, new WatchroomClock(time), time);
        return this;
    }

    /// <summary>A person takes the alert.</summary>
    public void Take() => keeper.Show(keeper.View.Alerts[0] with { Taken = new Taken("Runa Holt", time.GetUtcNow(), "on it") });

    /// <summary>An executable of the bench's folder; its path.</summary>
    public string Script(string text)
    {
        var path = Path.Combine(folder, "siren");
        File.WriteAllText(path, $"#!/bin/sh\n{text}\n");
        File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        return path;
    }

    public async ValueTask DisposeAsync()
    {
        await teller.DisposeAsync();
        Directory.Delete(folder, recursive: true);
    }

    /// <summary>The machine's own time, run faster.</summary>
    private sealed class FastTime : TimeProvider
    {
        private readonly DateTimeOffset start = System.GetUtcNow();

        public override DateTimeOffset GetUtcNow() => start + ((System.GetUtcNow() - start) * Speed);

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
            System.CreateTimer(callback, state, Shorter(dueTime), Shorter(period));

        private static TimeSpan Shorter(TimeSpan span) => span == Timeout.InfiniteTimeSpan ? span : span / Speed;
    }

    /// <summary>Shows what a test gives it.</summary>
    private sealed class FixedKeeper : IWatchKeeper
    {
        public event Action? Changed;

        public WatchView View { get; private set; } = new(0, [], [], []);

        public void Show(Alert alert)
        {
            View = new WatchView(View.Version + 1, [], [alert], []);
            Changed?.Invoke();
        }

        public ValueTask<BeatAnswer> BeatAsync(string device, Beat beat, CancellationToken cancellation = default) => throw new NotSupportedException();

        public ValueTask<bool> TakeAsync(string alert, string person, string note, CancellationToken cancellation = default) => throw new NotSupportedException();

        public ValueTask<bool> EndWatchAsync(string device, string job, string person, string reason, CancellationToken cancellation = default) => throw new NotSupportedException();
    }
}
