using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal;

namespace Companion.Watchroom.Watching;

/// <summary>
/// Where the watch is recorded: events in the journal's chain "watch", the latest beats and the last watched second in a file beside it.
/// Used by the keeper's loop.
/// </summary>
internal sealed class WatchRecorder(JournalStore store, TimeProvider time, WatchOptions options)
{
    private const string BootIdFile = "/proc/sys/kernel/random/boot_id";
    private const int LargestAppend = 500;
    private const long NanosecondsATick = 100;
    private static readonly TimeSpan TidyEvery = TimeSpan.FromMinutes(1);

    private readonly WatchEntries entries = new(File.Exists(BootIdFile) ? File.ReadAllText(BootIdFile).Trim() : "unknown");
    private BeatsFile? beats;
    private DateTimeOffset marked;
    private DateTimeOffset tidied;
    private bool hasOld;
    private volatile string? storeFault;
    private volatile string? beatsFault;

    /// <summary>Why nothing is recorded, in plain words.</summary>
    public string? Fault => storeFault ?? beatsFault;

    /// <summary>What is known, with the time that nobody watched, recorded if it was long enough to matter.</summary>
    public async Task<WatchBook> OpenAsync(WatchRules rules)
    {
        var book = WatchBook.Empty;
        DateTimeOffset? watchedUntil = null;
        foreach (var entry in store.Read(WatchEntries.Chain))
        {
            watchedUntil = entry.Time;
            book = WatchEntries.Event(entry) is { } happened ? rules.Apply(book, happened) : book;
        }

        try
        {
            var (seen, marks) = BeatsFile.Read(options.Disk, options.Directory);
            book = marks.Aggregate(book, (known, mark) => mark.Restore(known, options.SilentAfter));
            watchedUntil = watchedUntil is null || seen > watchedUntil ? seen : watchedUntil;
            var now = time.GetUtcNow();
            if (watchedUntil is { } until && (now - until).Duration() > options.BlindAfter)
            {
                var blind = rules.Blind(book, until, now);
                await AppendAsync([blind]).ConfigureAwait(false);
                book = rules.Apply(book, blind);
            }

            Rewrite(book, now);
            return book;
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            throw new StoreFaultException(BeatsWords(cause), cause);
        }
    }

    /// <summary>Makes events durable; returns what went wrong.</summary>
    public async Task<Exception?> RecordAsync(IReadOnlyList<WatchEvent> events)
    {
        try
        {
            foreach (var some in events.Chunk(LargestAppend))
            {
                await AppendAsync(some).ConfigureAwait(false);
            }

            hasOld |= events.Any(happened => happened is WatchEvent.Ended);
            return null;
        }
        catch (Exception cause)
        {
            storeFault = cause is StoreFaultException ? cause.Message : $"The watch room could not record: {cause.Message}";
            return cause;
        }
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
                beats.Append(now, heard.Select(book.Find).OfType<Watched>().Select(BeatMark.Of));
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
    }

    private static string BeatsWords(Exception cause) =>
        $"The file of the last beats cannot be written ({cause.Message}). Free some space or mend the disk: after a restart the watch room would not know where tablets were last heard.";

    private void Rewrite(WatchBook book, DateTimeOffset now)
    {
        beats?.Dispose();
        beats = null;
        beats = BeatsFile.Rewrite(options.Disk, options.Directory, now, book.Live.Values.SelectMany(some => some).Select(BeatMark.Of));
        (marked, tidied, hasOld, beatsFault) = (now, now, false, null);
    }

    private async Task AppendAsync(IEnumerable<WatchEvent> events)
    {
        var uptime = time.GetElapsedTime(0, time.GetTimestamp()).Ticks * NanosecondsATick;
        await store.AppendAsync([.. events.Select(happened => entries.Draft(happened, uptime))]).ConfigureAwait(false);
    }
}
