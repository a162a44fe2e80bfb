using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Threading.Channels;
using Companion.Engine.Ports;
using Companion.Watchroom.Watching;
using Companion.Watchroom.Web;

namespace Companion.Watchroom.Telling;

/// <summary>
/// Tells everybody on the ring-round of every alert that nobody has taken, each by itself, again and again until the other side has it or a
/// person has taken the alert. After a restart it goes on, and tells nobody twice who is known to have it. Rehearsals are told to nobody.
/// The watch room's own trouble is told in the same way, until it is over.
/// </summary>
internal sealed class Teller : IAsyncDisposable
{
    /// <summary>Longest pause between two attempts.</summary>
    public static readonly TimeSpan LongestPause = TimeSpan.FromSeconds(60);

    /// <summary>An attempt that takes longer has failed.</summary>
    public static readonly TimeSpan LongestAttempt = TimeSpan.FromSeconds(30);

    /// <summary>So long an attempt waits for its record.</summary>
    private static readonly TimeSpan LongestRecord = TimeSpan.FromSeconds(2);

    /// <summary>So long after an alert its watch may still come to be shown.</summary>
    private static readonly TimeSpan LongestToWatch = TimeSpan.FromSeconds(1);

    private const int FailuresToTrouble = 2;
    private static readonly TimeSpan ShortPause = TimeSpan.FromMilliseconds(20);
    private static readonly TimeSpan Look = TimeSpan.FromMilliseconds(500);
    private readonly IWatchKeeper keeper;
    private readonly OwnTrouble trouble;
    private readonly RingRoundReader files;
    private readonly Outbox outbox;
    private readonly TimeProvider time;
    private readonly Dictionary<RingChannel, IChannel> channels;
    private readonly Task<Dictionary<string, DateTimeOffset>> before;
    private readonly DateTimeOffset began;
    private readonly ConcurrentDictionary<string, TellingState> states = new();
    private readonly ConcurrentDictionary<string, string> failing = new();
    private readonly ConcurrentDictionary<string, Task> running = new();
    private readonly Channel<bool> wake = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });
    private readonly CancellationTokenSource end = new();
    private readonly Task loop;
    private volatile IReadOnlyList<Alert> own = [];

    /// <summary>Begins to tell.</summary>
    /// <param name="files">Whom.</param>
    /// <param name="keeper">Raises the alerts.</param>
    /// <param name="trouble">What the watch room itself fails in.</param>
    /// <param name="journal">Where it is recorded who was told.</param>
    /// <param name="clock">For the record.</param>
    /// <param name="time">The watch room's clock.</param>
    public Teller(RingRoundReader files, IWatchKeeper keeper, OwnTrouble trouble, IJournal journal, IClock clock, TimeProvider time)
    {
        this.files = files;
        this.keeper = keeper;
        this.trouble = trouble;
        this.time = time;
        outbox = new Outbox(journal, clock);
        before = Task.Run(outbox.ReadSent);
        began = time.GetUtcNow();
        channels = new() { [RingChannel.Email] = new EmailChannel(), [RingChannel.Webhook] = new WebhookChannel(time), [RingChannel.Siren] = new SirenChannel() };
        Round = files.Read();
        keeper.Changed += Wake;
        loop = Task.Run(RunAsync);
    }

    /// <summary>Raised when something of <see cref="States"/> or <see cref="Round"/> changed; handlers return at once.</summary>
    public event Action? Changed;

    /// <summary>The ring-round as its files are now.</summary>
    public RingRound Round { get; private set; }

    /// <summary>The watch room's own trouble that the ring-round is told of.</summary>
    public IReadOnlyList<Alert> Own => own;

    /// <summary>What is amiss with telling itself, in plain words; null when nothing is.</summary>
    public string? Fault { get; private set; }

    /// <summary>Who could not be told at the last attempts, of whatever alert, and why: the next alert would not reach them either.</summary>
    public IReadOnlyList<(string Target, string Words)> NotReached =>
    [
        .. Round.Targets.Where(target => failing.ContainsKey(target.Name))
            .Select(target => (target.Name, $"{target.Name} cannot be told {Wording.Of(target.Channel)}: {failing.GetValueOrDefault(target.Name)}")),
    ];

    /// <summary>Where every telling of an alert stands, in the order of the ring-round.</summary>
    public ImmutableArray<TellingState> States(string alert) => [.. states.Values.Where(state => state.Alert == alert).OrderBy(Place)];

    /// <summary>The pause after so many failures: 1, 2, 4 ... 60 s.</summary>
    public static TimeSpan PauseAfter(int failures) => TimeSpan.FromSeconds(Math.Min(LongestPause.Ticks / TimeSpan.TicksPerSecond, 1L << Math.Clamp(failures - 1, 0, 30)));

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        keeper.Changed -= Wake;
        await end.CancelAsync().ConfigureAwait(false);
        await loop.ConfigureAwait(false);
        await Task.WhenAll(running.Values).ConfigureAwait(false);
        foreach (var channel in channels.Values.OfType<IDisposable>())
        {
            channel.Dispose();
        }

        end.Dispose();
    }

    private void Wake() => wake.Writer.TryWrite(true);

    private async Task RunAsync()
    {
        try
        {
            while (true)
            {
                TryTurnRound();
                var woken = wake.Reader.ReadAsync(end.Token).AsTask();
                await Task.WhenAny(woken, Task.Delay(Look, time, end.Token)).ConfigureAwait(false);
                end.Token.ThrowIfCancellationRequested();
            }
        }
        catch (OperationCanceledException)
        {
            // The watch room stops.
        }
    }

    /// <summary>Whatever goes wrong in one round, the next is tried: nobody else tells.</summary>
    private void TryTurnRound()
    {
        try
        {
            TurnRound();
        }
        catch (Exception fault) when (fault is not OperationCanceledException)
        {
            Fault = $"The ring-round could not be gone through: {fault.Message}";
        }
    }

    private void TurnRound()
    {
        ReadAgain();
        foreach (var (id, task) in running.Where(one => one.Value.IsCompleted))
        {
            running.TryRemove(KeyValuePair.Create(id, task));
        }

        var troubles = trouble.Look();
        own = [.. troubles.Where(known => known.Lasts).Select(known => known.Alert)];
        var open = own.Concat(keeper.View.Alerts.Where(alert => alert is { Taken: null, Rehearsal: false })).ToList();
        var kept = troubles.Select(known => known.Alert).Concat(keeper.View.Alerts).Select(alert => alert.Id).ToHashSet();
        foreach (var (id, state) in states)
        {
            if (!kept.Contains(state.Alert))
            {
                states.TryRemove(id, out _);
            }
        }

        foreach (var telling in open.SelectMany(alert => Round.Targets.Select(target => new Telling(alert, target))))
        {
            Consider(telling);
        }
    }

    private void Consider(Telling telling)
    {
        if (telling.Alert.Raised < began && !before.IsCompleted)
        {
            // Who has been told of an alert from before the start is found out first; a new one waits for nothing.
            return;
        }

        var state = states.GetOrAdd(telling.Id, _ => First(telling));
        var due = state.Step is TellingStep.Waiting or TellingStep.Failed && state.At <= time.GetUtcNow();
        if (due)
        {
            Set(telling, state with { Step = TellingStep.Trying, Attempts = state.Attempts + 1 });
            running[telling.Id] = Task.Run(() => TellAsync(telling, state.Attempts + 1));
        }
    }

    private TellingState First(Telling telling)
    {
        Changed?.Invoke();
        return before.IsCompletedSuccessfully && before.Result.TryGetValue(telling.Id, out var at)
            ? new(telling.Alert.Id, telling.Target.Name, telling.Target.Channel, TellingStep.Sent, at, 1, string.Empty)
            : new(telling.Alert.Id, telling.Target.Name, telling.Target.Channel, TellingStep.Waiting, telling.Alert.Raised.AddSeconds(telling.Target.AfterSec), 0, string.Empty);
    }

    private async Task TellAsync(Telling telling, int attempt)
    {
        var reason = await AttemptAsync(telling).ConfigureAwait(false);
        var state = states.GetValueOrDefault(telling.Id) ?? First(telling);
        try
        {
            var record = (reason is null ? outbox.SentAsync(telling, attempt) : outbox.FailedAsync(telling, attempt, reason)).AsTask();
            await record.WaitAsync(LongestRecord, time).ConfigureAwait(false);
        }
        catch (TimeoutException)
        {
            // The store is still being opened, or hangs: the next attempt does not wait for it.
        }
        catch (Exception fault) when (fault is StoreFaultException or ArgumentException)
        {
            // Telling goes on without a record: a full disk must not keep anybody from being told.
            Fault = $"What is told is not being recorded: {fault.Message}";
        }

        Reached(telling.Target.Name, attempt, reason);
        var now = time.GetUtcNow();
        Set(telling, reason is null
            ? state with { Step = TellingStep.Sent, At = now, Attempts = attempt, Reason = string.Empty }
            : state with { Step = TellingStep.Failed, At = now + PauseAfter(attempt), Attempts = attempt, Reason = reason });
        Wake();
    }

    /// <summary>One failure is tried again in a second and is no trouble yet.</summary>
    private void Reached(string target, int attempt, string? reason)
    {
        if (reason is null)
        {
            failing.TryRemove(target, out _);
        }
        else if (attempt >= FailuresToTrouble)
        {
            failing[target] = reason;
        }
    }

    /// <summary>Why it failed; null when the other side has it.</summary>
    private async Task<string?> AttemptAsync(Telling telling)
    {
        using var limit = new CancellationTokenSource(LongestAttempt, time);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(limit.Token, end.Token);
        try
        {
            var position = LastPosition.Of(await WatchAsync(telling.Alert, either.Token).ConfigureAwait(false));
            var told = telling with { At = time.GetUtcNow(), Position = position };
            await channels[telling.Target.Channel].TellAsync(told, Round, either.Token).ConfigureAwait(false);
            return null;
        }
        catch (OperationCanceledException)
        {
            return end.IsCancellationRequested ? "The watch room stopped meanwhile." : $"No answer within {LongestAttempt.Seconds} seconds.";
        }
        catch (Exception fault)
        {
            // Whatever a channel meets, the alert is told again.
            return fault.Message;
        }
    }

    /// <summary>The watch over whom the alert is. A call in a job's first beat is shown at once, its watch only when that is recorded: it is waited for, not long.</summary>
    private async Task<Watch?> WatchAsync(Alert alert, CancellationToken cancellation)
    {
        while (LastPosition.WatchOf(keeper.View, alert) is null && alert.Kind != AlertKind.WatchRoom && time.GetUtcNow() - alert.Raised < LongestToWatch)
        {
            await Task.Delay(ShortPause, time, cancellation).ConfigureAwait(false);
        }

        return LastPosition.WatchOf(keeper.View, alert);
    }

    private void Set(Telling telling, TellingState state)
    {
        states[telling.Id] = state;
        Changed?.Invoke();
    }

    private int Place(TellingState state) => Round.Targets.Select(target => target.Name).ToList().IndexOf(state.Target) is >= 0 and var place ? place : int.MaxValue;

    private void ReadAgain()
    {
        if (files.HasChanged())
        {
            Round = files.Read();
            failing.Clear();
            Changed?.Invoke();
        }
    }
}
