using Companion.Contracts.Uplink;

namespace Companion.Uplink;

/// <summary>The tablet's side of the link to its watch room: the outbox and the beats, each running on its own. Callable from any thread.</summary>
public sealed class WatchroomUplink : IAsyncDisposable
{
    private readonly CancellationTokenSource _end = new();
    private readonly DeviceKey? _key;
    private readonly Outbox? _outbox;
    private readonly BeatLoop? _beats;
    private readonly Task _running;
    private UplinkState _state;

    private WatchroomUplink(UplinkParts parts, PairedWatchroom? paired, bool runs)
    {
        _state = new UplinkState { IsPaired = paired is not null };
        if (paired is null)
        {
            _running = Task.CompletedTask;
            return;
        }

        _key = DeviceKey.Open(parts.KeyFile);
        _outbox = new Outbox(parts, paired, _key, Tell);
        _beats = new BeatLoop(parts, paired, _key, answer => Answered?.Invoke(answer), Tell);
        _running = !runs ? Task.CompletedTask : Task.WhenAll(Task.Run(() => UntilEnd(_outbox.RunAsync)), Task.Run(() => UntilEnd(_beats.RunAsync)));
    }

    private WatchroomUplink(string trouble)
    {
        _state = new UplinkState { IsPaired = true, BeatTrouble = trouble, OutboxTrouble = trouble };
        _running = Task.CompletedTask;
    }

    /// <summary>Raised for every answer to a beat, on the uplink's thread; handlers return at once.</summary>
    public event Action<BeatAnswer>? Answered;

    /// <summary>How the link stands.</summary>
    public UplinkState State => Volatile.Read(ref _state);

    /// <summary>
    /// Starts it; without a watch room it does nothing. What was kept and cannot be read is told as the state's trouble and stops nothing else: a
    /// job's clocks need no watch room. Such a tablet counts as paired, so that it is missed.
    /// </summary>
    public static WatchroomUplink Start(UplinkParts parts)
    {
        try
        {
            return new WatchroomUplink(parts, PairedWatchroom.Read(parts.WatchroomFile), runs: true);
        }
        catch (Exception cause) when (cause is FormatException or IOException or UnauthorizedAccessException)
        {
            return new WatchroomUplink(cause.Message);
        }
    }

    /// <summary>
    /// The same without its two loops: whoever holds it decides when each sends, which comes to every order that pauses and chance could bring.
    /// </summary>
    internal static WatchroomUplink WithoutLoops(UplinkParts parts) => new(parts, PairedWatchroom.Read(parts.WatchroomFile), runs: false);

    /// <summary>Without loops: sends one beat.</summary>
    internal Task SendBeatAsync() => _beats!.SendAsync(_end.Token);

    /// <summary>Without loops: sends what waits, once; false when something of it was not acknowledged.</summary>
    internal Task<bool> SendEntriesAsync() => _outbox!.TryOnceAsync(_end.Token);

    /// <summary>Something happened that the watch room should hear of now: a beat goes at once, and the entries try again without waiting out a pause.</summary>
    public void Nudge()
    {
        _beats?.Nudge();
        _outbox?.Hurry();
    }

    /// <summary>Entries were added to the journal, or the network is back.</summary>
    public void EntriesAdded() => _outbox?.Wake();

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_end.IsCancellationRequested)
        {
            return;
        }

        await _end.CancelAsync().ConfigureAwait(false);
        await _running.ConfigureAwait(false);
        _outbox?.Dispose();
        _beats?.Dispose();
        _key?.Dispose();
        _end.Dispose();
    }

    private void Tell(Func<UplinkState, UplinkState> change)
    {
        UplinkState before, after;
        do
        {
            before = State;
            after = change(before);
        }
        while (Interlocked.CompareExchange(ref _state, after, before) != before);
    }

    private async Task UntilEnd(Func<CancellationToken, Task> run)
    {
        try
        {
            await run(_end.Token).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            // Stopping between two requests loses nothing: what was not acknowledged is sent by the next run.
        }
    }
}
