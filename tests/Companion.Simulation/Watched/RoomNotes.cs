using System.Globalization;
using Companion.Contracts.Uplink;
using Companion.TestKit.Judging;
using Companion.Watchroom.Watching;

namespace Companion.Simulation.Watched;

/// <summary>
/// All that somebody with a clock and a list knows of the watch room: which jobs it watches, and which alerts must stand since when, to the tick.
/// It follows from what was delivered and from the watch room's clock. Can be copied, for what may have been recorded and may not.
/// </summary>
internal sealed class RoomNotes
{
    /// <summary>A silent link after so long.</summary>
    public static readonly TimeSpan Silence = TimeSpan.FromSeconds(60);

    private static readonly TimeSpan Grace = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan Stalled = TimeSpan.FromSeconds(10);
    private static readonly TimeSpan GoneFor = TimeSpan.FromSeconds(10);

    private readonly List<WatchNote> _notes = [];
    private readonly List<OwedAlert> _owed = [];

    /// <summary>Every alert that must stand, in the order of raising.</summary>
    public IReadOnlyList<OwedAlert> Alerts => _owed;

    /// <summary>Every job that it was told of.</summary>
    public IReadOnlyList<WatchNote> All => _notes;

    /// <summary>The jobs that are watched.</summary>
    public IEnumerable<WatchNote> Live => _notes.Where(note => note.IsLive);

    /// <summary>When the watch room last took anything up.</summary>
    public DateTimeOffset? Last { get; set; }

    /// <summary>No deadline is held against anybody before.</summary>
    public DateTimeOffset GraceUntil { get; private set; } = DateTimeOffset.MinValue;

    /// <summary>How many blind periods there were.</summary>
    public int Blinds { get; private set; }

    /// <summary>When time alone next raises something; null when it does not.</summary>
    public DateTimeOffset? Next => Live.SelectMany(note => new[] { OverdueAt(note), SilentAt(note) }).Min();

    /// <summary>Another with the same in it.</summary>
    public RoomNotes Copy()
    {
        var copies = _owed.ToDictionary(alert => alert, alert => alert with { }, ReferenceEqualityComparer.Instance as IEqualityComparer<OwedAlert>);
        var copy = new RoomNotes { Last = Last, GraceUntil = GraceUntil, Blinds = Blinds };
        copy._owed.AddRange(_owed.Select(alert => copies[alert]));
        copy._notes.AddRange(_notes.Select(note => note.Copy(copies)));
        return copy;
    }

    /// <summary>The job of a tablet; null when it was never told of.</summary>
    public WatchNote? Find(string device, string? job) => _notes.Find(one => one.Device == device && one.Job == job);

    /// <summary>Time passed.</summary>
    public void Pass(DateTimeOffset now)
    {
        if (Last is { } last && now - last > Stalled)
        {
            Blind(last, now, isSetBack: false);
        }

        Last = now;
        foreach (var note in Live)
        {
            if (OverdueAt(note) <= now)
            {
                note.Missed.Add(note.Epoch!.Value);
                Owe(note, AlertKind.Overdue, Word(note.Epoch.Value), now);
            }

            if (SilentAt(note) <= now)
            {
                note.IsSilent = true;
                Owe(note, AlertKind.SilentLink, null, now);
            }
        }
    }

    /// <summary>A beat was taken, and all of it recorded.</summary>
    public void Beat(string device, Beat beat, DateTimeOffset now)
    {
        if (beat.Job is { } job)
        {
            About(device, job, beat, now);
        }

        Heard(device, beat, now);
        foreach (var note in Live.Where(note => note.Device == device).ToList())
        {
            note.IsOver = note.GoneSince is { } since && now - since >= GoneFor && !note.IsOpen;
        }
    }

    /// <summary>
    /// A beat was taken when nothing could be recorded: the tablet is heard, and what it calls for is shown (I16). A check-in, a new job and an end do
    /// not count.
    /// </summary>
    public void BeatUnrecorded(string device, Beat beat, DateTimeOffset now)
    {
        if (beat.Job is { } job)
        {
            var whole = Copy();
            whole.About(device, job, beat, now);
            TakeCalls(whole, device, job);
        }

        Heard(device, beat, now);
    }

    /// <summary>
    /// Nobody watched. A grace that was interrupted goes on with what was left of it. Where the clock was set back meanwhile, nobody knows for how long that
    /// was: every deadline counts as passed.
    /// </summary>
    public void Blind(DateTimeOffset from, DateTimeOffset now, bool isSetBack)
    {
        var left = from < GraceUntil ? GraceUntil - from : Grace;
        GraceUntil = now + (left < Grace ? left : Grace);
        Blinds++;
        foreach (var note in Live.Where(_ => isSetBack))
        {
            (note.LastBeat, note.SureBeat, note.SilentFrom) = (Earlier(note.LastBeat, now), Earlier(note.SureBeat, now), now);
            note.CheckedIn = note.CheckedIn is { } at ? Earlier(at, now) : null;
            note.OverdueFrom = note.OverdueFrom is null || IsMissed(note) ? note.OverdueFrom : now;
        }
    }

    /// <summary>Holds the board against these notes.</summary>
    public void Compare(WatchView view, DateTimeOffset now)
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
            var watch = view.Watches.FirstOrDefault(watch => watch.Device == note.Device && watch.Job == note.Job);
            Oracle.Claim(watch is not null, $"I11: nobody watches {note.Device} {note.Job} any more");
            Oracle.Claim(watch.CheckIn == note.Kept, $"I11: the last check-in of {note.Device} {note.Job} is {note.Kept}, and the board tells of {watch.CheckIn}");
            Oracle.Claim(
                OverdueAt(note) is not { } from || (watch.OverdueFrom is { } told && NotInGrace(told) == from),
                $"I10: the deadline of {note.Device} {note.Job} is {Time(OverdueAt(note))}, and the board has {Time(watch.OverdueFrom)}");
        }
    }

    private void About(string device, string job, Beat beat, DateTimeOffset now)
    {
        var note = Find(device, job);
        if (note is null)
        {
            _notes.Add(note = new WatchNote(device, job));
            note.Heard(now, Silence);
        }
        else if (note.IsUnwatched)
        {
            note.IsUnwatched = false;
            note.Heard(now, Silence);
        }
        else if (note.IsOver && beat.CheckIn is { } stated && stated.Sequence > (note.Kept ?? 0) && !IsLate(stated))
        {
            (note.IsOver, note.CheckedIn, note.OverdueFrom) = (false, null, null);
            note.Heard(now, Silence);
        }

        if (beat.CheckIn is { } checkIn && note.IsLive)
        {
            CheckIn(note, checkIn, now);
        }

        foreach (var call in beat.Alerts.Where(call => !note.Calls.ContainsKey(call.Id)))
        {
            note.Calls.Add(call.Id, Called(note, call, beat, now));
        }
    }

    /// <summary>Of what a beat would have changed, only what it calls for.</summary>
    private void TakeCalls(RoomNotes whole, string device, string job)
    {
        var (note, told) = (Find(device, job), whole.Find(device, job)!);
        if (note is null)
        {
            _notes.Add(note = new WatchNote(device, job) { IsUnwatched = true });
        }

        foreach (var alert in whole._owed.Skip(_owed.Count).ToList())
        {
            _owed.Add(alert);
            note.Alerts.Add(alert);
        }

        note.Missed.UnionWith(told.Missed);
        foreach (var (call, alert) in told.Calls.Where(call => !note.IsUnwatched && !note.Calls.ContainsKey(call.Key)))
        {
            note.Calls.Add(call, _owed[whole._owed.FindIndex(one => ReferenceEquals(one, alert))]);
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
        if (!IsLate(stated) || IsSettled(note) || note.OverdueFrom is not { } standing)
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
            return Owe(note, call.Kind switch { CallKind.Quiet => AlertKind.Quiet, CallKind.Warning => AlertKind.Warning, _ => AlertKind.Help }, call.Id, now);
        }

        var missed = beat.CheckIn is { } stated && stated.Sequence < note.Kept ? stated.Sequence : note.Epoch!.Value;
        note.Missed.Add(missed);
        return Owe(note, AlertKind.Overdue, Word(missed), now);
    }

    private void Heard(string device, Beat beat, DateTimeOffset now)
    {
        foreach (var note in Live.Where(note => note.Device == device))
        {
            note.Heard(now, Silence);
            note.GoneSince = note.Job == beat.Job ? null : note.GoneSince ?? now;
        }
    }

    private DateTimeOffset? OverdueAt(WatchNote note) => note.OverdueFrom is { } from && !IsMissed(note) ? NotInGrace(from) : null;

    private DateTimeOffset? SilentAt(WatchNote note) => note.IsSilent ? null : NotInGrace(note.SilentFrom);

    private DateTimeOffset NotInGrace(DateTimeOffset deadline) => deadline < GraceUntil ? GraceUntil : deadline;

    /// <summary>Somebody took what was raised for the check-in that the deadline counts from.</summary>
    private static bool IsSettled(WatchNote note) => note.Epoch is { } epoch
        && note.Alerts.Exists(alert => alert.IsTaken && alert.Kind == AlertKind.Overdue && alert.About == Word(epoch));

    private static bool IsMissed(WatchNote note) => note.Epoch is { } epoch && note.Missed.Contains(epoch);

    private static bool IsLate(CheckInStatement stated) => stated.AgeMilliseconds >= (stated.IntervalSeconds + (long)stated.MarginSeconds) * 1000;

    /// <summary>The same is owed once, however often it is called for; each silence of a link is another.</summary>
    private OwedAlert Owe(WatchNote note, AlertKind kind, string? about, DateTimeOffset now)
    {
        if (about is not null && note.Alerts.Find(one => one.About == about && one.Kind == kind) is { } known)
        {
            return known;
        }

        var alert = new OwedAlert(kind, note.Device, note.Job, now, about);
        note.Alerts.Add(alert);
        _owed.Add(alert);
        return alert;
    }

    private static DateTimeOffset Earlier(DateTimeOffset one, DateTimeOffset other) => one < other ? one : other;

    private static string Word(long number) => number.ToString(CultureInfo.InvariantCulture);

    private static string Time(DateTimeOffset? time) => time?.ToString("HH:mm:ss.fff", CultureInfo.InvariantCulture) ?? "none";
}
