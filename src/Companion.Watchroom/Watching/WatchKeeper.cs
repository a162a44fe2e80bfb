using Companion.Contracts;
using Companion.Contracts.Uplink;
using Companion.Engine.Ports;
using Companion.Journal;

namespace Companion.Watchroom.Watching;

/// <summary>
/// The watch over one store: one loop takes beats, acts and the passing of time in order, records what they change in the journal's chain
/// "watch" in one piece, and only then answers. Alerts are shown even before they are durable, and go on being raised when the disk takes
/// nothing more (I16); then <see cref="Fault"/> says so. The journal stays the caller's. Callable from any thread.
/// </summary>
public sealed class WatchKeeper : IWatchKeeper, IAsyncDisposable
{
    private const int LongestNote = 2000;
    private const int LongestName = 200;

    private readonly TimeProvider time;
    private readonly WatchRules rules;
    private readonly WatchRecorder recorder;
    private readonly WatchBoard board;
    private readonly DueQueue due = new();
    private readonly WatchQueue queue;
    private readonly Task loop;
    private readonly TaskCompletionSource recording = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private WatchBook book;
    private volatile ReadChain? read;
    private bool isStale;
    private DateTimeOffset last;
    private long lastPulse;

    private WatchKeeper(WatchBook book, WatchRecorder recorder, WatchRules rules, TimeProvider time, WatchOptions options)
    {
        (this.book, this.recorder, this.rules, this.time) = (book, recorder, rules, time);
        last = time.GetUtcNow();
        lastPulse = last.UtcTicks;

        // Versions rise over restarts too, so that a page that was open all the time takes the newer view.
        board = new WatchBoard(book, last.ToUnixTimeMilliseconds());
        LookAtAll();
        if (!recorder.IsOpening)
        {
            recording.SetResult();
        }

        queue = new WatchQueue(time, options.PulseEvery);
        loop = Task.Run(LoopAsync);
    }

    /// <inheritdoc/>
    public event Action? Changed;

    /// <inheritdoc/>
    public WatchView View => board.View;

    /// <summary>When deadlines were last looked at: when that is a second ago, nobody watches, and somebody must be told so.</summary>
    public DateTimeOffset LastPulse => new(Volatile.Read(ref lastPulse), TimeSpan.Zero);

    /// <summary>Why nothing is being recorded, in plain words; null while all is well.</summary>
    public string? Fault => recorder.Fault;

    /// <summary>What the disk cannot do, in plain words; null while it is only slow or all is well.</summary>
    public string? DiskFault => recorder.DiskFault;

    /// <summary>Done when the store is open and read and the watch goes on by it; faulted when it cannot be opened.</summary>
    public Task Recording => recording.Task;

    /// <summary>What was found when the chain was read behind the snapshot, in plain words; null when they agree.</summary>
    public string? Finding { get; private set; }

    /// <summary>
    /// Takes up the watch where the journal left it. When nobody watched meanwhile, that is journalled and shown, and no deadline is held
    /// against anybody before <see cref="WatchOptions.GraceAfterBlind"/> is over.
    /// </summary>
    /// <param name="store">A store of kind real; stays open as long as the keeper.</param>
    /// <param name="time">The watch room's clock: <see cref="SteadyTime"/>.</param>
    /// <param name="options">How to watch.</param>
    /// <exception cref="StoreFaultException">The store or the file of beats cannot be written.</exception>
    public static async Task<WatchKeeper> OpenAsync(JournalStore store, TimeProvider time, WatchOptions options)
    {
        if (store.Kind != StoreKind.Real)
        {
            throw new ArgumentException("The watch room needs a real store: rehearsals never reach real alerts.", nameof(store));
        }

        var rules = new WatchRules(options);
        var recorder = new WatchRecorder(time, options);
        var book = await recorder.OpenAsync(store, rules).ConfigureAwait(false);
        return new WatchKeeper(book, recorder, rules, time, options);
    }

    /// <summary>
    /// Takes up the watch by its snapshot at once, while the store is still opening; null when there is no snapshot that fits. Until the store
    /// is open and its chain read nothing is recorded, and <see cref="Fault"/> says so; then the chain counts, whatever the snapshot said.
    /// </summary>
    /// <param name="journal">The store's folder.</param>
    /// <param name="opening">The opening of it.</param>
    /// <param name="time">The watch room's clock: <see cref="SteadyTime"/>.</param>
    /// <param name="options">How to watch.</param>
    public static WatchKeeper? TryTakeUp(string journal, Task<JournalStore> opening, TimeProvider time, WatchOptions options)
    {
        var rules = new WatchRules(options);
        var recorder = new WatchRecorder(time, options);
        if (recorder.TakeUp(journal, rules, out var chain) is not { } book)
        {
            return null;
        }

        var keeper = new WatchKeeper(book, recorder, rules, time, options);
        _ = Task.Run(() => keeper.ReadWhenOpenAsync(opening, WatchSnapshot.Essentials(chain)));
        return keeper;
    }

    /// <inheritdoc/>
    /// <exception cref="ArgumentException">The beat breaks <see cref="BeatRules"/>.</exception>
    /// <exception cref="StoreFaultException">It could not be recorded; its calls were raised all the same.</exception>
    public async ValueTask<BeatAnswer> BeatAsync(string device, Beat beat, CancellationToken cancellation = default) =>
        BeatRules.Fault(beat) is { } fault
            ? throw new ArgumentException(fault, nameof(beat))
            : await queue.AskAsync(new BeatInput(time.GetUtcNow(), device, BeatRules.Kept(beat)), cancellation).ConfigureAwait(false);

    /// <inheritdoc/>
    public async ValueTask<bool> TakeAsync(string alert, string person, string note, CancellationToken cancellation = default) =>
        await queue.AskAsync(new TakeInput(time.GetUtcNow(), alert, Name(person), BeatRules.Clean(note, LongestNote)!), cancellation).ConfigureAwait(false);

    /// <inheritdoc/>
    public async ValueTask<bool> EndWatchAsync(string device, string job, string person, string reason, CancellationToken cancellation = default) =>
        await queue.AskAsync(new EndInput(time.GetUtcNow(), device, job, Name(person), BeatRules.Clean(reason, LongestNote)!), cancellation).ConfigureAwait(false);

    /// <summary>Looks at the deadlines now; done when what that raised is durable. The keeper does so by itself too.</summary>
    public async Task PulseAsync(CancellationToken cancellation = default) =>
        _ = await queue.AskAsync(new PulseInput(time.GetUtcNow()), cancellation).ConfigureAwait(false);

    /// <summary>Ends the watch after what has been received; the journal stays open.</summary>
    public async ValueTask DisposeAsync()
    {
        if (await queue.CloseAsync().ConfigureAwait(false))
        {
            await loop.ConfigureAwait(false);
            recorder.Close(book, last);
        }
    }

    private static string Name(string person) => string.IsNullOrWhiteSpace(person)
        ? throw new ArgumentException("An act needs the name of a person.", nameof(person))
        : BeatRules.Clean(person, LongestName)!;

    private async Task LoopAsync()
    {
        await foreach (var turn in queue.TurnsAsync().ConfigureAwait(false))
        {
            await StepAsync(turn).ConfigureAwait(false);
        }
    }

    private async Task ReadWhenOpenAsync(Task<JournalStore> opening, string snapshot)
    {
        try
        {
            var store = await opening.ConfigureAwait(false);
            var (chain, _) = WatchRecorder.Read(store, rules);
            Finding = WatchSnapshot.Essentials(chain) == snapshot
                ? null
                : "The snapshot by which the watch room started did not say the same as its record. The record counts: look at every open watch and alert.";
            read = new ReadChain(store, chain);
        }
        catch (Exception cause)
        {
            // The watch goes on in memory; what the store says is on the board.
            recorder.CannotOpen(cause);
            recording.TrySetException(cause);
        }
    }

    /// <summary>Goes on by the chain, with the beats and the alerts of the time in which it was read.</summary>
    private async Task GoOnByAsync(ReadChain chain)
    {
        recorder.Take(chain.Store);
        var since = recorder.Unrecorded;
        book = recorder.WithBeatsOf(since.Aggregate(chain.Book, rules.Apply), book);
        _ = await recorder.RecordAsync(since).ConfigureAwait(false);
        LookAtAll();
        isStale |= board.Publish(book);
        recording.TrySetResult();
    }

    private async Task StepAsync(IReadOnlyList<WatchInput> step)
    {
        if (read is { } chain)
        {
            read = null;
            await GoOnByAsync(chain).ConfigureAwait(false);
        }

        if (recorder.TakeLeftByErasure() is { } left)
        {
            book = book.WithTextsOf(left);
        }

        var turn = new WatchTurn(rules, due, book);
        foreach (var input in step)
        {
            var before = last;
            last = input.At > last ? input.At : last;
            turn.Pass(before, last);
            Do(input, turn);
        }

        if (turn.Alarms)
        {
            board.Publish(turn.WithoutGains());
            Tell();
        }

        var failure = await recorder.RecordAsync(turn.Events).ConfigureAwait(false);
        book = failure is null ? turn.Book : turn.WithoutGains();
        if (failure is not null)
        {
            LookAtAll();
        }

        isStale |= board.Publish(book);
        var isPulse = step.Any(input => input is PulseInput);
        if (isStale && (isPulse || turn.Events.Count > 0))
        {
            isStale = false;
            Tell();
        }

        recorder.Mark(book, last, turn.Heard);
        recorder.Keep(book, last);
        foreach (var input in step)
        {
            Answer(input, failure);
        }

        if (isPulse)
        {
            Volatile.Write(ref lastPulse, time.GetUtcNow().UtcTicks);
        }
    }

    /// <summary>One input that cannot be done must not end the watch over everybody else.</summary>
    private void Do(WatchInput input, WatchTurn turn)
    {
        try
        {
            input.Do(turn, last);
        }
        catch (Exception cause)
        {
            input.Fail(cause);
        }
    }

    private void Answer(WatchInput input, Exception? failure)
    {
        if ((failure ?? recorder.Unkept(input)) is { } cause)
        {
            input.Fail(cause);
        }
        else
        {
            input.Succeed(book);
        }
    }

    private void Tell()
    {
        try
        {
            Changed?.Invoke();
        }
        catch (Exception)
        {
            // A page that cannot be told must not end the watch; it looks at the view again by itself.
        }
    }

    private void LookAtAll()
    {
        foreach (var watched in book.Live.Values.SelectMany(some => some))
        {
            due.Note(watched.Id, WatchRules.NextLook(book, watched));
        }
    }

    private sealed record ReadChain(JournalStore Store, WatchBook Book);
}
