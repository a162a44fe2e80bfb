using Companion.Contracts.Uplink;
using Companion.TestKit.Judging;
using Companion.Watchroom.Watching;

namespace Companion.Simulation.Watched;

/// <summary>
/// Knows from what was delivered, and from the watch room's clock, which alerts must stand, and since when to the tick (I10, I11). It looks at the board
/// after everything that reached the watch room. What it takes from there it holds against its own list first: where a blind period began, and, after
/// a restart on a disk that had failed, which of the things that were refused as not recorded are there all the same.
/// </summary>
internal sealed class RoomJudge
{
    private static readonly TimeSpan Noticed = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan Mark = TimeSpan.FromSeconds(1);

    private readonly List<DateTimeOffset> _failedStarts = [];
    private RoomNotes _notes = new();

    // What a restart may find once something could not be recorded: all until then, or that too; a failed write may have reached the disk.
    private RoomNotes[]? _afterRestart;
    private DateTimeOffset _sure;

    /// <summary>Every alert that must stand, in the order of raising.</summary>
    public IReadOnlyList<OwedAlert> Alerts => _notes.Alerts;

    /// <summary>When time alone next raises something; null when it does not.</summary>
    public DateTimeOffset? Next => _notes.Next;

    /// <summary>The watch room was made to look at its deadlines.</summary>
    public void Looked(bool isRecorded, RoomLook look)
    {
        Doubt(isRecorded, look, _ => { });
        _notes.Pass(look.Now);
        Compare(look);
    }

    /// <summary>A beat reached the watch room; without an answer it said that it cannot keep it.</summary>
    public void Beaten(string device, Beat beat, BeatAnswer? answer, RoomLook look)
    {
        Doubt(answer is not null, look, notes => notes.Beat(device, beat, look.Now));
        _notes.Pass(look.Now);
        if (answer is not null)
        {
            _notes.Beat(device, beat, look.Now);
            Answered(device, beat, answer);
        }
        else
        {
            _notes.BeatUnrecorded(device, beat, look.Now);
        }

        Compare(look);
    }

    /// <summary>A person takes an alert.</summary>
    public void Taken(OwedAlert alert, bool isRecorded, RoomLook look)
    {
        Doubt(isRecorded, look, notes => notes.Alerts.Single(one => one.Id == alert.Id).IsTaken = true);
        _notes.Pass(look.Now);
        alert.IsTaken |= isRecorded;
        Compare(look);
    }

    /// <summary>The watch room could not start.</summary>
    public void CouldNotStart(DateTimeOffset now) => _failedStarts.Add(now);

    /// <summary>The watch room is there again.</summary>
    /// <param name="look">What it shows.</param>
    /// <param name="passed">How long ago it last took anything up, in truth, on the same run of its machine; null after its machine was started anew.</param>
    public void Restarted(RoomLook look, TimeSpan? passed)
    {
        Oracle.Claim(look.Fault is null, $"I11: a watch room that has just started says that it records nothing: {look.Fault}");
        var found = _afterRestart ?? [_notes];
        for (var at = 0; ; at++)
        {
            try
            {
                Resume(found[at], look, passed);
                break;
            }
            catch (InvariantBrokenException) when (at + 1 < found.Length)
            {
                // Then the other one must fit.
            }
        }

        _afterRestart = null;
        _failedStarts.Clear();
        Sure(look.Now);
    }

    /// <summary>True when every call of a job that is still open, and that a person gave, stands here as an alert.</summary>
    public bool HasCalls(string device, TabletWitness witness) => witness.Stories.Where(story => !story.Value.Ended).All(story =>
        story.Value.Calls.All(call => _notes.Find(device, story.Key)?.Calls.ContainsKey($"{story.Key}/{call.Sequence}") == true));

    /// <summary>The first thing that is not recorded ends all recording, and the watch room must say so (I16). What it does says what it may find later.</summary>
    private void Doubt(bool isRecorded, RoomLook look, Action<RoomNotes> change)
    {
        Oracle.Claim(isRecorded || look.Fault is not null, "I16: something is not recorded, and the watch room does not say so");
        Oracle.Claim(look.Fault is null || look.HasAiled, $"I16: the watch room says that it records nothing on a disk that nothing ails: {look.Fault}");
        if (isRecorded || _afterRestart is not null)
        {
            return;
        }

        var more = _notes.Copy();
        more.Pass(look.Now);
        change(more);
        _afterRestart = [_notes.Copy(), more];
    }

    private void Compare(RoomLook look)
    {
        _notes.Compare(look.View, look.Now);
        Oracle.Claim(look.View.Blind.Length == _notes.Blinds, "I11: a blind period that nobody had, or one that is not shown");
        if (look.Fault is null)
        {
            Sure(look.Now);
        }
    }

    /// <summary>Up to now everything is written down, the latest beats too.</summary>
    private void Sure(DateTimeOffset now)
    {
        _sure = now;
        foreach (var note in _notes.All)
        {
            note.SureBeat = note.LastBeat;
        }
    }

    private void Answered(string device, Beat beat, BeatAnswer answer)
    {
        var note = _notes.Find(device, beat.Job);
        Oracle.Claim(answer.CheckIn == (note?.Kept ?? 0), $"I11: the answer to a beat tells of check-in {answer.CheckIn}, kept is {note?.Kept}");
        var taken = beat.Alerts.Where(call => note!.Calls[call.Id].IsTaken).Select(call => call.Id).Order(StringComparer.Ordinal);
        Oracle.Claim(answer.Taken.Select(one => one.Id).Order(StringComparer.Ordinal).SequenceEqual(taken), "I11: the answer to a beat tells of other taken calls than were taken");
    }

    /// <summary>Goes on from what a restart may have found, if the board fits it.</summary>
    private void Resume(RoomNotes found, RoomLook look, TimeSpan? passed)
    {
        foreach (var note in found.Live)
        {
            Remember(note, _notes.Find(note.Device, note.Job));
        }

        if (_notes.Last is { } last)
        {
            NoticeBlind(found, last, look, passed);
        }

        foreach (var note in found.Live)
        {
            TakeLastBeat(note, look.View);
        }

        found.Last = look.Now;
        found.Compare(look.View, look.Now);
        Oracle.Claim(look.View.Blind.Length == found.Blinds, "I11: a blind period that nobody had, or one that is not shown");
        _notes = found;
    }

    /// <summary>Beats are written down beside the record: of those the watch room knows more than the record says.</summary>
    private static void Remember(WatchNote note, WatchNote? known)
    {
        if (known is { IsLive: true })
        {
            (note.LastBeat, note.SureBeat, note.SilencesHeard) = (known.LastBeat, known.SureBeat, known.SilencesHeard);
            note.IsSilent = note.Silences > note.SilencesHeard;
        }
        else
        {
            note.SureBeat = note.LastBeat;
        }

        (note.GoneSince, note.SilentFrom) = (null, note.LastBeat + RoomNotes.Silence);
    }

    /// <summary>What the board says of the time that nobody watched, held against that time; starts that failed may have noted some of it.</summary>
    private void NoticeBlind(RoomNotes found, DateTimeOffset last, RoomLook look, TimeSpan? passed)
    {
        var (until, setBack) = (last, passed is { } truly && truly - (look.Now - last) > Noticed);
        foreach (var shown in look.View.Blind.Skip(found.Blinds).ToList())
        {
            var isFirst = shown.From <= last && shown.From >= _sure - Mark;
            Oracle.Claim(isFirst || shown.From == until, $"I11: the board says blind from {shown.From:O}, it watched until {last:O}, surely until {_sure:O}");
            Oracle.Claim(shown.To == look.Now || _failedStarts.Contains(shown.To), $"I11: the board says blind until {shown.To:O}, and nobody started then");
            found.Blind(shown.From, shown.To, shown.From > shown.To || (isFirst && setBack));
            until = shown.To;
        }

        Oracle.Claim(
            until == look.Now || ((look.Now - until).Duration() <= Noticed && !(until == last && setBack)),
            $"I11: nobody watched from {until:O} to {look.Now:O}, {(setBack ? "the clock was set back meanwhile, " : "")}and the board does not say so");
    }

    /// <summary>The beats that came while the disk failed may be forgotten, the others not. A silence that was told ends with a beat that is known.</summary>
    private static void TakeLastBeat(WatchNote note, WatchView view)
    {
        var shown = view.Watches.FirstOrDefault(watch => watch.Device == note.Device && watch.Job == note.Job)?.LastBeat ?? note.LastBeat;
        Oracle.Claim(shown >= note.SureBeat && shown <= note.LastBeat, $"I11: {note.Device} was last heard at {note.LastBeat:O}, and the board says at {shown:O}");
        if (shown < note.LastBeat)
        {
            (note.LastBeat, note.SilentFrom) = (shown, shown + RoomNotes.Silence);
            note.IsSilent = note.Alerts.Exists(alert => alert.Kind == AlertKind.SilentLink && alert.Raised > shown);
        }
    }
}
