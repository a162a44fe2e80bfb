using System.Globalization;
using Companion.Contracts.Uplink;
using Companion.TestKit.Judging;
using Companion.Watchroom.Watching;

namespace Companion.Simulation.Watched;

/// <summary>
/// Knows from what was delivered, and from the watch room's clock, which alerts must stand, and since when to the tick (I11). It looks at the board
/// after everything that reached the watch room; what it expects it never reads there. The one thing it takes from it is where a blind period began,
/// which it holds against its own list first.
/// </summary>
internal sealed class RoomJudge
{
    private static readonly TimeSpan Silence = TimeSpan.FromSeconds(60);
    private static readonly TimeSpan Grace = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan Stalled = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan Noticed = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan Mark = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan GoneFor = TimeSpan.FromSeconds(10);

    private readonly List<WatchNote> _notes = [];
    private readonly List<OwedAlert> _owed = [];
    private DateTimeOffset? _last;
    private DateTimeOffset _graceUntil = DateTimeOffset.MinValue;
    private int _blind;

    /// <summary>Every alert that must stand, in the order of raising.</summary>
    public IReadOnlyList<OwedAlert> Alerts => _owed;

    /// <summary>When time alone next raises something; null when it does not.</summary>
    public DateTimeOffset? Next => Live.SelectMany(note => new[] { OverdueAt(note), SilentAt(note) }).Min();

    private IEnumerable<WatchNote> Live => _notes.Where(note => !note.IsOver);

    /// <summary>The watch room was made to look at its deadlines.</summary>
    public void Looked(DateTimeOffset now, WatchView view)
    {
        Pass(now);
        Compare(view, now);
    }

    /// <summary>A beat reached the watch room, and it answered that it keeps it.</summary>
    public void Kept(string device, Beat beat, BeatAnswer answer, DateTimeOffset now, WatchView view)
    {
        Pass(now);
        if (beat.Job is { } job)
        {
            About(device, job, beat, now);
        }

        Heard(device, beat, now);
        Answered(device, beat, answer);
        Compare(view, now);
    }

    /// <summary>A person takes an alert.</summary>
    public void Taken(OwedAlert alert, DateTimeOffset now, WatchView view)
    {
        Pass(now);
        alert.IsTaken = true;
        Compare(view, now);
    }

    /// <summary>The watch room is there again.</summary>
    public void Restarted(DateTimeOffset now, WatchView view)
    {
        var shown = view.Blind.Length > _blind ? view.Blind[^1] : null;
        if (_last is { } last)
        {
            Oracle.Claim(shown is not null || now - last <= Noticed, $"I11: nobody watched from {last:T} to {now:T}, and the board does not say so");
            Oracle.Claim(shown is null || (shown.To == now && shown.From <= last && shown.From >= last - Mark), $"I11: the board says blind from {shown?.From:T}, it watched until {last:T}");
            if (shown is not null)
            {
                Blind(shown.From, now);
            }
        }

        Oracle.Claim(view.Blind.Length == _blind, "I11: a blind period that nobody had");
        foreach (var note in _notes)
        {
            note.GoneSince = null;
        }

        _last = now;
        Compare(view, now);
    }

    /// <summary>True when every call of a job that is still open, and that a person gave, stands here as an alert.</summary>
    public bool HasCalls(string device, TabletWitness witness) => witness.Stories.Where(story => !story.Value.Ended).All(story =>
        story.Value.Calls.All(call => _notes.Exists(note => note.Device == device && note.Job == story.Key && note.Calls.ContainsKey($"{story.Key}/{call.Sequence}"))));

    private void About(string device, string job, Beat beat, DateTimeOffset now)
    {
        var note = _notes.Find(one => one.Device == device && one.Job == job);
        if (note is null)
        {
            _notes.Add(note = new WatchNote(device, job) { LastBeat = now });
        }
        else if (note.IsOver && beat.CheckIn is { } stated && stated.Sequence > (note.Kept ?? 0) && !IsLate(stated))
        {
            (note.IsOver, note.IsSilent, note.LastBeat, note.CheckedIn, note.OverdueFrom) = (false, false, now, null, null);
        }

        if (beat.CheckIn is { } checkIn && !note.IsOver)
        {
            CheckIn(note, checkIn, now);
        }

        foreach (var call in beat.Alerts.Where(call => !note.Calls.ContainsKey(call.Id)))
        {
            note.Calls.Add(call.Id, Called(note, call, beat, now));
        }
    }

    private static void CheckIn(WatchNote note, CheckInStatement stated, DateTimeOffset now)
    {
        var times = TimeSpan.FromSeconds(stated.IntervalSeconds + (long)stated.MarginSeconds);
        if (note.Kept is { } kept && stated.Sequence <= kept)
        {
            // The same check-in, and a shorter time: it counts at once. An older one says nothing.
            if (stated.Sequence == kept && note.CheckedIn + times < note.OverdueFrom)
            {
                note.OverdueFrom = note.CheckedIn + times;
            }

            return;
        }

        var at = now - TimeSpan.FromMilliseconds(Math.Min(stated.AgeMilliseconds, BeatRules.OldestMilliseconds));
        at = note.CheckedIn > at ? note.CheckedIn.Value : at;
        if (!IsLate(stated) || note.OverdueFrom is not { } standing)
        {
            (note.Epoch, note.OverdueFrom) = (stated.Sequence, at + times);
        }
        else
        {
            // It came too late to say anything of now: what stood goes on standing.
            note.OverdueFrom = at + times < standing ? at + times : standing;
        }

        (note.Kept, note.CheckedIn) = (stated.Sequence, at);
    }

    /// <summary>The tablet's own deadline and the watch room's are about the same silence: whichever is told first, it is one alert.</summary>
    private OwedAlert Called(WatchNote note, Call call, Beat beat, DateTimeOffset now)
    {
        if (call.Kind != CallKind.Unanswered)
        {
            return Owe(note, call.Kind switch { CallKind.Quiet => AlertKind.Quiet, CallKind.Warning => AlertKind.Warning, _ => AlertKind.Help }, null, now);
        }

        var missed = beat.CheckIn is { } stated && stated.Sequence < note.Kept ? stated.Sequence : note.Epoch!.Value;
        return note.Missed.Add(missed)
            ? Owe(note, AlertKind.Overdue, missed, now)
            : note.Alerts.First(alert => alert.Kind == AlertKind.Overdue && alert.CheckIn == missed);
    }

    private void Heard(string device, Beat beat, DateTimeOffset now)
    {
        foreach (var note in Live.Where(note => note.Device == device).ToList())
        {
            (note.LastBeat, note.IsSilent) = (now, false);
            note.GoneSince = note.Job == beat.Job ? null : note.GoneSince ?? now;
            note.IsOver = note.GoneSince is { } since && now - since >= GoneFor && !note.IsOpen;
        }
    }

    private void Answered(string device, Beat beat, BeatAnswer answer)
    {
        var note = _notes.Find(one => one.Device == device && one.Job == beat.Job);
        Oracle.Claim(answer.CheckIn == (note?.Kept ?? 0), $"I11: the answer to a beat tells of check-in {answer.CheckIn}, kept is {note?.Kept}");
        var taken = beat.Alerts.Where(call => note!.Calls[call.Id].IsTaken).Select(call => call.Id).Order(StringComparer.Ordinal);
        Oracle.Claim(answer.Taken.Select(one => one.Id).Order(StringComparer.Ordinal).SequenceEqual(taken), "I11: the answer to a beat tells of other taken calls than were taken");
    }

    private void Pass(DateTimeOffset now)
    {
        if (_last is { } last && now - last > Stalled)
        {
            Blind(last, now);
        }

        _last = now;
        foreach (var note in Live)
        {
            if (OverdueAt(note) <= now)
            {
                note.Missed.Add(note.Epoch!.Value);
                Owe(note, AlertKind.Overdue, note.Epoch, now);
            }

            if (SilentAt(note) <= now)
            {
                note.IsSilent = true;
                Owe(note, AlertKind.SilentLink, null, now);
            }
        }
    }

    /// <summary>Nobody watched. A grace that was interrupted goes on with what was left of it.</summary>
    private void Blind(DateTimeOffset from, DateTimeOffset now)
    {
        var left = from < _graceUntil ? _graceUntil - from : Grace;
        _graceUntil = now + (left < Grace ? left : Grace);
        _blind++;
    }

    private DateTimeOffset? OverdueAt(WatchNote note) =>
        note.OverdueFrom is { } from && !note.Missed.Contains(note.Epoch!.Value) ? NotInGrace(from) : null;

    private DateTimeOffset? SilentAt(WatchNote note) => note.IsSilent ? null : NotInGrace(note.LastBeat + Silence);

    private DateTimeOffset NotInGrace(DateTimeOffset deadline) => deadline < _graceUntil ? _graceUntil : deadline;

    private static bool IsLate(CheckInStatement stated) => stated.AgeMilliseconds >= (stated.IntervalSeconds + (long)stated.MarginSeconds) * 1000;

    private OwedAlert Owe(WatchNote note, AlertKind kind, long? checkIn, DateTimeOffset now)
    {
        var alert = new OwedAlert(kind, note.Device, note.Job, now, checkIn);
        note.Alerts.Add(alert);
        _owed.Add(alert);
        return alert;
    }

    private void Compare(WatchView view, DateTimeOffset now)
    {
        var shown = view.Alerts.ToDictionary(alert => alert.Id);
        foreach (var alert in view.Alerts.Reverse().Where(alert => !_owed.Exists(owed => owed.Id == alert.Id)))
        {
            var owed = _owed.Find(one => one.Id is null && (one.Kind, one.Device, one.Job) == (alert.Kind, alert.Device, alert.Job) && one.Raised == alert.Raised);
            Oracle.Claim(owed is not null, $"I11: an alert stands that nothing calls for, raised at {Time(alert.Raised)}: {alert.Kind} {alert.Device} {alert.Job}");
            owed.Id = alert.Id;
        }

        foreach (var owed in _owed)
        {
            Oracle.Claim(owed.Id is not null, $"I11: at {Time(now)} this must stand and does not: {owed}");
            Oracle.Claim(shown.TryGetValue(owed.Id, out var alert), $"I11: an alert is lost: {owed}");
            Oracle.Claim(alert.Kind == owed.Kind && alert.Raised == owed.Raised, $"I11: an alert became another: {owed}");
            Oracle.Claim(alert.Taken is not null == owed.IsTaken, $"I11: an alert was ended by nobody, or stands although somebody took it: {owed}");
        }

        foreach (var note in Live)
        {
            Oracle.Claim(view.Watches.Any(watch => watch.Device == note.Device && watch.Job == note.Job), $"I11: nobody watches {note.Device} {note.Job} any more");
        }
    }

    private static string Time(DateTimeOffset time) => time.ToString("HH:mm:ss.fff", CultureInfo.InvariantCulture);
}
