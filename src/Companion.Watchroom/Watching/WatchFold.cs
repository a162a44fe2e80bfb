using Companion.Contracts.Uplink;

namespace Companion.Watchroom.Watching;

/// <summary>What each event makes of what is known. Pure; any thread.</summary>
internal static class WatchFold
{
    /// <summary>The book after an event.</summary>
    public static WatchBook Apply(WatchBook book, WatchEvent happened, TimeSpan silentAfter) => happened switch
    {
        WatchEvent.Opened opened => Open(book, opened, silentAfter),
        WatchEvent.CheckedIn checkedIn => Change(book, checkedIn.Watch, watched => watched with
        {
            Epoch = checkedIn.Epoch,
            Shown = watched.Shown with
            {
                CheckIn = checkedIn.Sequence,
                CheckInAge = TimeSpan.FromMilliseconds(checkedIn.AgeMilliseconds),
                CheckedInAt = checkedIn.CheckedInAt,
                Due = checkedIn.Due,
                OverdueFrom = checkedIn.OverdueFrom,
            },
        }),
        WatchEvent.Shortened shorter => Change(book, shorter.Watch, watched => watched with
        {
            Shown = watched.Shown with { Due = shorter.Due, OverdueFrom = shorter.OverdueFrom },
        }),
        WatchEvent.Alerted alerted => Raise(book, alerted),
        WatchEvent.Called called => Change(book, called.Watch, watched => watched with { Calls = watched.Calls.SetItem(called.Call, called.Alert) }),
        WatchEvent.Answered answered => Answer(book, answered),
        WatchEvent.Ended ended => book.Find(ended.Watch) is { } watched ? book.Without(watched with { GoneSince = null }) : book,
        WatchEvent.Blinded blinded => AfterBlind(book, blinded),
        _ => throw new InvalidOperationException($"{happened.GetType().Name} has no meaning here."),
    };

    private static WatchBook Open(WatchBook book, WatchEvent.Opened opened, TimeSpan silentAfter)
    {
        var id = opened.Watch;
        var shown = new Watch
        {
            Device = id.Device,
            Job = id.Job,
            Last = new Beat(id.Job, opened.Technician, opened.Phase, opened.Place, null, null, [], [], Recording: true, id.Rehearsal),
            LastBeat = opened.At,
            SilentFrom = book.NotInGrace(opened.At + silentAfter),
        };
        var watched = book.Over.GetValueOrDefault(id) is { } before
            ? before with { IsSilent = false, Shown = shown with { CheckIn = before.Shown.CheckIn } }
            : new Watched(id, shown);
        return (book with { Over = book.Over.Remove(id) }).With(watched);
    }

    private static WatchBook Raise(WatchBook book, WatchEvent.Alerted alerted)
    {
        var alert = alerted.Alert;
        var raised = book.Alerts.ContainsKey(alert.Id)
            ? book
            : book with { Alerts = book.Alerts.Add(alert.Id, (alert, book.Alerts.Count)) };
        var isSilence = alerted.Cause == AlertCause.Silence;
        return Change(raised, alerted.Watch, watched => watched with
        {
            Alerts = watched.Alerts.Contains(alert.Id) ? watched.Alerts : watched.Alerts.Add(alert.Id),
            Silences = watched.Silences + (isSilence ? 1 : 0),
            IsSilent = watched.IsSilent || isSilence,
        });
    }

    private static WatchBook Answer(WatchBook book, WatchEvent.Answered answered) => book.Alerts.TryGetValue(answered.Alert, out var known)
        ? book with
        {
            Alerts = book.Alerts.SetItem(
                answered.Alert, (known.Alert with { Taken = new Taken(answered.Person, answered.At, answered.Note) }, known.Number)),
        }
        : book;

    /// <summary>
    /// Deadlines are moved out of the grace. A clock found set back while the watch room was down says nothing of how long that was: what is
    /// later than now counts as passed, since a deadline may come early, never late (I10).
    /// </summary>
    private static WatchBook AfterBlind(WatchBook book, WatchEvent.Blinded blinded)
    {
        book = book with { GraceUntil = blinded.GraceUntil, Blind = book.Blind.Add(new BlindPeriod(blinded.From, blinded.At)) };
        foreach (var watched in book.Live.Values.SelectMany(some => some))
        {
            var shown = watched.Shown;
            book = book.With(watched with
            {
                Shown = shown with
                {
                    LastBeat = blinded.SetBack ? Earlier(shown.LastBeat, blinded.At) : shown.LastBeat,
                    SilentFrom = book.NotInGrace(blinded.SetBack ? blinded.At : shown.SilentFrom),
                    CheckedInAt = blinded.SetBack && shown.CheckedInAt is { } at ? Earlier(at, blinded.At) : shown.CheckedInAt,
                    Due = blinded.SetBack && shown.Due is { } due ? Earlier(due, blinded.At) : shown.Due,
                    OverdueFrom = shown.OverdueFrom is { } from && !book.IsOverdueRaised(watched)
                        ? book.NotInGrace(blinded.SetBack ? blinded.At : from)
                        : shown.OverdueFrom,
                },
            });
        }

        return book;
    }

    private static DateTimeOffset Earlier(DateTimeOffset one, DateTimeOffset other) => one < other ? one : other;

    /// <summary>A call can belong to a watch that is over, so both are looked at.</summary>
    private static WatchBook Change(WatchBook book, WatchId id, Func<Watched, Watched> change) =>
        book.Find(id) is { } live ? book.With(change(live))
        : book.Over.TryGetValue(id, out var over) ? book with { Over = book.Over.SetItem(id, change(over)) }
        : book;
}
