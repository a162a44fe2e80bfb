using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal;

namespace Companion.Watchroom.Watching;

/// <summary>
/// Where the watch is recorded: events in the journal's chain "watch", the latest beats and the last watched second in a file beside it.
/// Used by the keeper's loop.
/// </summary>
internal sealed class WatchRecorder(TimeProvider time, WatchOptions options)
{
    private const int LargestAppend = 500;
    private const long NanosecondsATick = 100;
    private const string OpeningWords =
        "the record is still being read and checked. Alerts are raised all the same, but check-ins and what people take are not kept before that is done.";

    private static readonly TimeSpan TidyEvery = TimeSpan.FromMinutes(1);

    private readonly WatchEntries entries = new(options.BootId);
    private readonly List<WatchEvent> unrecorded = [];
    private readonly HashSet<(WatchId Watch, string Call)> unkeptCalls = [];
    private volatile JournalStore? store;
    private Task snapshot = Task.CompletedTask;
    private long sinceSnapshot;
    private volatile bool isErased;
    private WatchBook? leftByErasure;
    private BeatsFile? beats;
    private DateTimeOffset marked;
    private DateTimeOffset tidied;
    private bool hasOld;
    private volatile string? storeFault;
    private volatile string? beatsFault;

    /// <summary>Why nothing is recorded, in plain words; null while all is well.</summary>
    public string? Fault => DiskFault ?? (IsOpening ? OpeningWords : null);

    /// <summary>What the disk cannot do, in plain words; null while it is only slow or all is well.</summary>
    public string? DiskFault => storeFault ?? beatsFault;

    /// <summary>Alerts and blind periods of the time before the store was open: to be recorded first of all.</summary>
    public IReadOnlyList<WatchEvent> Unrecorded => unrecorded;

    /// <summary>True until the store is open and read: until then nothing is recorded.</summary>
    public bool IsOpening => store is null;

    /// <summary>What is known, with the time that nobody watched, recorded if it was long enough to matter.</summary>
    public async Task<WatchBook> OpenAsync(JournalStore opened, WatchRules rules)
    {
        var (chain, watchedUntil) = Read(opened, rules);
        Take(opened);
        var book = TakeUp(chain, watchedUntil, rules, out var blind);
        if (blind is not null)
        {
            await AppendAsync([blind]).ConfigureAwait(false);
        }

        RewriteOrThrow(book);
        return book;
    }

    /// <summary>What is known by the snapshot and what the chain gained after it; null when there is none that fits.</summary>
    /// <param name="journal">The store's folder.</param>
    /// <param name="rules">The rules.</param>
    /// <param name="chain">The book as the chain alone would make it.</param>
    public WatchBook? TakeUp(string journal, WatchRules rules, out WatchBook chain)
    {
        chain = WatchBook.Empty;
        if (WatchSnapshot.Read(options.Disk, options.Directory) is not { } kept
            || WitnessTail.Read(options.Disk, journal, kept.Mark) is not { } tail)
        {
            return null;
        }

        chain = tail.Aggregate(kept.Book, (book, entry) => Fold(book, entry, rules));
        var known = TakeUp(chain, tail.Count > 0 ? Made(tail[^1]) : new WatchedUntil(kept.At, null, 0), rules, out var blind);
        if (blind is not null)
        {
            unrecorded.Add(blind);
        }

        RewriteOrThrow(known);
        return known;
    }

    /// <summary>The whole chain's book, and when its last entry was made.</summary>
    public static (WatchBook Book, WatchedUntil? Last) Read(JournalStore opened, WatchRules rules)
    {
        var book = WatchBook.Empty;
        WatchedUntil? last = null;
        foreach (var entry in opened.Read(WatchEntries.Chain))
        {
            last = Made(entry);
            book = Fold(book, entry, rules);
        }

        return (book, last);
    }

    /// <summary>From now on is recorded here.</summary>
    public void Take(JournalStore opened)
    {
        store = opened;
        store.Erased += Forget;
        sinceSnapshot = opened.MarkOf(WatchEntries.Chain).Sequence;
    }

    /// <summary>The store cannot be opened: what is said of it.</summary>
    public void CannotOpen(Exception cause) => storeFault = cause.Message;

    /// <summary>The book with the beats of another that is later.</summary>
    public WatchBook WithBeatsOf(WatchBook book, WatchBook later) =>
        later.Live.Values.SelectMany(some => some).Select(BeatMark.Of).Aggregate(book, (known, mark) => mark.Restore(known, options.SilentAfter));

    private static WatchBook Fold(WatchBook book, JournalEntry entry, WatchRules rules) =>
        WatchEntries.Event(entry) is { } happened ? rules.Apply(book, happened) : book;

    private WatchBook TakeUp(WatchBook book, WatchedUntil? watchedUntil, WatchRules rules, out WatchEvent.Blinded? blind)
    {
        blind = null;
        try
        {
            var (seen, marks) = BeatsFile.Read(options.Disk, options.Directory);
            book = marks.Aggregate(book, (known, mark) => mark.Restore(known, options.SilentAfter));
            watchedUntil = watchedUntil is null || seen?.At > watchedUntil.At ? seen : watchedUntil;
            var now = time.GetUtcNow();
            var setBack = watchedUntil?.WasSetBackBefore(Seen(now), options.BlindAfter) == true;
            if (watchedUntil is { At: var until } && (setBack || (now - until).Duration() > options.BlindAfter))
            {
                blind = rules.Blind(book, until, now, setBack);
                book = rules.Apply(book, blind);
            }

            return book;
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            throw new StoreFaultException(BeatsWords(cause), cause);
        }
    }

    /// <summary>The chain's book after an erasure, once: what is shown must forget with it. Null when nothing was erased.</summary>
    public WatchBook? TakeLeftByErasure() => Interlocked.Exchange(ref leftByErasure, null);

    private void RewriteOrThrow(WatchBook book)
    {
        try
        {
            Rewrite(book, time.GetUtcNow());
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            throw new StoreFaultException(BeatsWords(cause), cause);
        }
    }

    private void Forget()
    {
        isErased = true;
        try
        {
            snapshot.Wait();
            WatchSnapshot.Remove(options.Disk, options.Directory);
            _ = Task.Run(() => Volatile.Write(ref leftByErasure, Read(store!, new WatchRules(options)).Book));
        }
        catch (IOException cause)
        {
            storeFault = $"Erased texts may still lie in the snapshot of the watch ({cause.Message}). Remove its file from the folder 'watch'.";
        }
    }

    /// <summary>Makes events durable; returns what went wrong.</summary>
    public async Task<Exception?> RecordAsync(IReadOnlyList<WatchEvent> events)
    {
        var failure = await TryRecordAsync(events).ConfigureAwait(false);
        var calls = events.OfType<WatchEvent.Called>().Select(called => (called.Watch, called.Call));
        if (failure is null)
        {
            unkeptCalls.ExceptWith(calls);
        }
        else
        {
            unkeptCalls.UnionWith(calls);
        }

        return failure;
    }

    /// <summary>
    /// Why an input must not be answered although nothing of it is new; null when it may be. A call that was raised and not recorded is not known after
    /// a restart: the tablet must go on sending it.
    /// </summary>
    public Exception? Unkept(WatchInput input) =>
        unkeptCalls.Overlaps(input.Calls) ? new StoreFaultException("A call of this beat was raised and is not recorded yet.") : null;

    private async Task<Exception?> TryRecordAsync(IReadOnlyList<WatchEvent> events)
    {
        if (IsOpening)
        {
            unrecorded.AddRange(events.Where(happened => happened is WatchEvent.Alerted or WatchEvent.Called or WatchEvent.Blinded));
            return events.Count == 0 ? null : new StoreFaultException($"Nothing is being recorded: {OpeningWords}");
        }

        try
        {
            foreach (var some in events.Chunk(LargestAppend))
            {
                await AppendAsync(some).ConfigureAwait(false);
            }

            sinceSnapshot += events.Count;
            hasOld |= events.Any(happened => happened is WatchEvent.Ended);
            return null;
        }
        catch (Exception cause)
        {
            storeFault = cause is StoreFaultException ? cause.Message : $"The watch room could not record: {cause.Message}";
            return cause;
        }
    }

    /// <summary>Keeps a snapshot when enough was recorded since the last one. Not being able to costs a slower start, nothing else.</summary>
    /// <param name="book">The book with everything that was recorded.</param>
    /// <param name="now">The time.</param>
    public void Keep(WatchBook book, DateTimeOffset now)
    {
        if (store is not { } open || storeFault is not null || isErased || sinceSnapshot < options.SnapshotEvery || !snapshot.IsCompleted)
        {
            return;
        }

        sinceSnapshot = 0;
        var kept = new WatchSnapshot(open.MarkOf(WatchEntries.Chain), now, book);
        snapshot = Task.Run(() =>
        {
            try
            {
                kept.Write(options.Disk, options.Directory);
            }
            catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
            {
                WatchSnapshot.Discard(options.Disk, options.Directory);
            }
        });
    }

    /// <summary>
    /// Writes down the beats that were heard, at once: a beat that was answered and lost would make the link seem silent. Without any, marks
    /// the second as watched when one is over.
    /// </summary>
    public void Mark(WatchBook book, DateTimeOffset now, IReadOnlySet<WatchId> heard)
    {
        if (heard.Count == 0 && now - marked < options.MarkEvery)
        {
            return;
        }

        try
        {
            if (beats is null || beats.IsLong || (hasOld && now - tidied >= TidyEvery))
            {
                Rewrite(book, now);
            }
            else
            {
                beats.Append(Seen(now), heard.Select(book.Find).OfType<Watched>().Select(BeatMark.Of));
                marked = now;
            }
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            // What was half written is not gone on with: the next mark writes the file anew.
            beats?.Dispose();
            beats = null;
            beatsFault = BeatsWords(cause);
        }
    }

    /// <summary>Writes the last mark and lets go of the file.</summary>
    public void Close(WatchBook book, DateTimeOffset now)
    {
        marked = DateTimeOffset.MinValue;
        Mark(book, now, new HashSet<WatchId>());
        beats?.Dispose();
        snapshot.Wait();
        if (store is { } open)
        {
            open.Erased -= Forget;
        }
    }

    private static string BeatsWords(Exception cause) =>
        $"The file of the last beats cannot be written ({cause.Message}). Free some space or mend the disk: after a restart the watch room would not know where tablets were last heard.";

    private void Rewrite(WatchBook book, DateTimeOffset now)
    {
        beats?.Dispose();
        beats = null;
        beats = BeatsFile.Rewrite(options.Disk, options.Directory, Seen(now), book.Live.Values.SelectMany(some => some).Select(BeatMark.Of));
        (marked, tidied, hasOld, beatsFault) = (now, now, false, null);
    }

    private async Task AppendAsync(IEnumerable<WatchEvent> events)
    {
        await store!.AppendAsync([.. events.Select(happened => entries.Draft(happened, Uptime))]).ConfigureAwait(false);
    }

    private long Uptime => time.GetElapsedTime(0, time.GetTimestamp()).Ticks * NanosecondsATick;

    private WatchedUntil Seen(DateTimeOffset now) => new(now, options.BootId, Uptime);

    private static WatchedUntil Made(JournalEntry entry) => new(entry.Time, entry.BootId, entry.Uptime);
}
