using Companion.Contracts.Uplink;

namespace Companion.Watchroom.Watching;

/// <summary>
/// The rules of the watch: what follows from a beat, from time passing and from a person's act. Two rules that never mix: only a new
/// person's check-in moves the overdue deadline later (I10), any beat moves the silent-link one; both by the watch room's clock alone (I11).
/// Pure; any thread.
/// </summary>
internal sealed class WatchRules(WatchOptions options)
{
    /// <summary>The book after an event.</summary>
    public WatchBook Apply(WatchBook book, WatchEvent happened) => WatchFold.Apply(book, happened, options.SilentAfter);

    /// <summary>The book after what a beat changes in memory alone.</summary>
    public WatchBook Heard(WatchBook book, string device, Beat beat, DateTimeOffset now) => book.Heard(device, beat, now, options.SilentAfter);

    /// <summary>
    /// Nobody watched from one time to another. A grace that was interrupted goes on with what was left of it: a watch room that dies again
    /// and again must not put off its alerts for ever.
    /// </summary>
    public WatchEvent.Blinded Blind(WatchBook book, DateTimeOffset from, DateTimeOffset now, bool setBack = false)
    {
        var left = from < book.GraceUntil ? book.GraceUntil - from : options.GraceAfterBlind;
        return new WatchEvent.Blinded(now, from, now + (left < options.GraceAfterBlind ? left : options.GraceAfterBlind), setBack || from > now);
    }

    /// <summary>True when the program took nothing up for so long that it must be told.</summary>
    public bool HasStalled(DateTimeOffset last, DateTimeOffset now) => now - last > options.StalledAfter;

    /// <summary>A beat begins a watch, or brings one back with a check-in that is new and not too late.</summary>
    public static WatchEvent? Opening(WatchBook book, WatchId id, Beat beat, DateTimeOffset now)
    {
        var opens = book.Find(id) is null
            && (!book.Over.TryGetValue(id, out var over)
                || (beat.CheckIn is { } checkIn && checkIn.Sequence > (over.Shown.CheckIn ?? 0) && !IsLate(checkIn)));
        return opens ? new WatchEvent.Opened(now, id, beat.Technician, beat.Place, beat.Phase) : null;
    }

    /// <summary>What the check-in that a beat states does to a deadline.</summary>
    public static WatchEvent? CheckIn(WatchBook book, Watched watched, CheckInStatement stated, DateTimeOffset now)
    {
        var (kept, interval, margin) = (watched.Shown.CheckIn, TimeSpan.FromSeconds(stated.IntervalSeconds), TimeSpan.FromSeconds(stated.MarginSeconds));
        if (kept is { } last && stated.Sequence <= last)
        {
            return stated.Sequence == last ? Shorter(book, watched, interval, margin, now) : null;
        }

        // The later of two check-ins was not made before the earlier one, however long the earlier one was under way.
        var at = now - TimeSpan.FromMilliseconds(stated.AgeMilliseconds);
        at = watched.Shown.CheckedInAt is { } before && before > at ? before : at;
        var (due, from) = (at + interval, book.NotInGrace(at + interval + margin));
        if (!IsLate(stated) || book.IsOverdueTaken(watched) || watched.Shown is not { OverdueFrom: { } standing, Due: { } standingDue })
        {
            return new WatchEvent.CheckedIn(now, watched.Id, stated.Sequence, stated.AgeMilliseconds, at, due, from, stated.Sequence);
        }

        // Too late to say anything of now: shown with its age, but the deadline that stood goes on standing. One whose alert somebody has taken
        // is settled: after it, this check-in is the last, and the silence since is another one.
        return new WatchEvent.CheckedIn(
            now, watched.Id, stated.Sequence, stated.AgeMilliseconds, at, Earlier(due, standingDue), Earlier(from, standing),
            watched.Epoch ?? stated.Sequence);
    }

    /// <summary>The alerts that the calls of a beat make, and to which alert each call belongs.</summary>
    public static IEnumerable<WatchEvent> Calls(WatchBook book, WatchId id, Beat beat, DateTimeOffset now)
    {
        if ((book.Find(id) ?? book.Over.GetValueOrDefault(id)) is not { } watched)
        {
            yield break;
        }

        foreach (var call in beat.Alerts.Where(call => !watched.Calls.ContainsKey(call.Id)).DistinctBy(call => call.Id))
        {
            // The tablet's own deadline and the watch room's are about the same missing check-in: whichever is first, it is one alert.
            var (alert, cause) = call.Kind == CallKind.Unanswered && Missed(watched, beat) is { } missed
                ? (AlertId.Overdue(id, missed), AlertCause.CheckIn)
                : (AlertId.Call(id, call.Id), AlertCause.Call);
            if (!book.Alerts.ContainsKey(alert))
            {
                yield return new WatchEvent.Alerted(now, id, cause, AlertOf(watched, alert, KindOf(call.Kind), now, AlertWords.Of(call)));
            }

            yield return new WatchEvent.Called(now, id, call.Id, alert);
        }
    }

    /// <summary>
    /// The end of a watch whose tablet has been saying for long enough that it is elsewhere. Not while an alert is open: what reports "no job"
    /// may be a fault, and must not silence what somebody has to look at.
    /// </summary>
    public WatchEvent? End(WatchBook book, Watched watched, DateTimeOffset now) =>
        watched.GoneSince is { } since && since + options.EndAfter <= now && !book.IsOpen(watched)
            ? new WatchEvent.Ended(now, watched.Id, Person: null, "the tablet says that it is at no job or at another")
            : null;

    /// <summary>The alerts that time alone makes.</summary>
    public static IEnumerable<WatchEvent> Passed(WatchBook book, Watched watched, DateTimeOffset now)
    {
        if (OverdueAt(book, watched) <= now)
        {
            var alert = AlertId.Overdue(watched.Id, watched.Epoch!.Value);
            yield return new WatchEvent.Alerted(
                now, watched.Id, AlertCause.CheckIn, AlertOf(watched, alert, AlertKind.Overdue, now, AlertWords.Overdue(watched.Shown, now)));
        }

        if (SilentAt(watched) <= now)
        {
            var alert = AlertId.Silent(watched.Id, watched.Silences + 1);
            yield return new WatchEvent.Alerted(
                now, watched.Id, AlertCause.Silence, AlertOf(watched, alert, AlertKind.SilentLink, now, AlertWords.Silent(watched.Shown)));
        }
    }

    /// <summary>When time alone may next make an alert; null when nothing is awaited.</summary>
    public static DateTimeOffset? NextLook(WatchBook book, Watched watched) => (OverdueAt(book, watched), SilentAt(watched)) switch
    {
        ({ } overdue, { } silent) => Earlier(overdue, silent),
        var (overdue, silent) => overdue ?? silent,
    };

    private static DateTimeOffset? OverdueAt(WatchBook book, Watched watched) => book.IsOverdueRaised(watched) ? null : watched.Shown.OverdueFrom;

    private static DateTimeOffset? SilentAt(Watched watched) => watched.IsSilent ? null : watched.Shown.SilentFrom;

    /// <summary>The check-in after which nobody answered: the one that the beat states, where it was under way longer than a later one.</summary>
    private static long? Missed(Watched watched, Beat beat) =>
        beat.CheckIn is { } stated && stated.Sequence < watched.Shown.CheckIn ? stated.Sequence : watched.Epoch;

    /// <summary>A shorter interval or margin counts at once, a longer one from the next check-in on.</summary>
    private static WatchEvent.Shortened? Shorter(WatchBook book, Watched watched, TimeSpan interval, TimeSpan margin, DateTimeOffset now)
    {
        if (watched.Shown is not { CheckedInAt: { } at, Due: { } standingDue, OverdueFrom: { } standing })
        {
            return null;
        }

        var (due, from) = (Earlier(standingDue, at + interval), Earlier(standing, book.NotInGrace(at + interval + margin)));
        return due < standingDue || from < standing ? new WatchEvent.Shortened(now, watched.Id, due, from) : null;
    }

    private static bool IsLate(CheckInStatement stated) => stated.AgeMilliseconds >= (stated.IntervalSeconds + (long)stated.MarginSeconds) * 1000;

    private static Alert AlertOf(Watched watched, string id, AlertKind kind, DateTimeOffset now, string detail) =>
        new(id, kind, watched.Id.Device, watched.Id.Job, watched.Shown.Last.Technician ?? "", watched.Shown.Last.Place, now, detail, Taken: null)
        {
            Rehearsal = watched.Id.Rehearsal,
        };

    private static AlertKind KindOf(CallKind kind) => kind switch
    {
        CallKind.Help => AlertKind.Help,
        CallKind.Quiet => AlertKind.Quiet,
        CallKind.Unanswered => AlertKind.Overdue,
        CallKind.Warning => AlertKind.Warning,
        _ => AlertKind.Help,
    };

    private static DateTimeOffset Earlier(DateTimeOffset one, DateTimeOffset other) => one < other ? one : other;
}
