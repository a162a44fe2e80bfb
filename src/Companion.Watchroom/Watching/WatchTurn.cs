using Companion.Contracts.Uplink;

namespace Companion.Watchroom.Watching;

/// <summary>
/// What some inputs together make of the book before it is recorded. Inputs are taken in the order in which they were received, and
/// before each the time that passed until then: a check-in that comes a moment too late finds the alert raised. Used by one thread.
/// </summary>
internal sealed class WatchTurn
{
    private readonly WatchRules rules;
    private readonly DueQueue due;
    private readonly WatchBook before;
    private readonly List<Func<WatchBook, WatchBook>> losses = [];
    private readonly List<WatchEvent> events = [];

    /// <summary>Begins from a book.</summary>
    public WatchTurn(WatchRules rules, DueQueue due, WatchBook before) => (this.rules, this.due, this.before, Book) = (rules, due, before, before);

    /// <summary>The book with all that happened.</summary>
    public WatchBook Book { get; private set; }

    /// <summary>What must be recorded for it.</summary>
    public IReadOnlyList<WatchEvent> Events => events;

    /// <summary>The watches that a beat was heard of.</summary>
    public HashSet<WatchId> Heard { get; } = [];

    /// <summary>True when somebody must be told.</summary>
    public bool Alarms => events.Exists(happened => happened is WatchEvent.Alerted);

    /// <summary>
    /// The book with what needs no record (I16): alerts, beats, and that nobody watched. Check-ins, takings and endings count only when they are durable.
    /// </summary>
    public WatchBook WithoutGains() => losses.Aggregate(before, (book, loss) => loss(book));

    /// <summary>Lets time pass since the last input.</summary>
    public void Pass(DateTimeOffset last, DateTimeOffset now)
    {
        if (rules.HasStalled(last, now))
        {
            Do(rules.Blind(Book, last, now));
        }

        while (due.TryTake(now, out var id))
        {
            if (Book.Find(id) is { } watched)
            {
                DoAll(WatchRules.Passed(Book, watched, now));
                Look(id);
            }
        }
    }

    /// <summary>Takes a beat.</summary>
    public void Beat(string device, Beat beat, DateTimeOffset now)
    {
        if (beat.Job is { } job)
        {
            About(new WatchId(device, job, beat.Rehearsal), beat, now);
        }

        Lose(book => rules.Heard(book, device, beat, now));
        foreach (var watched in Book.Of(device))
        {
            Heard.Add(watched.Id);
            if (rules.End(Book, watched, now) is { } end)
            {
                Do(end);
            }

            Look(watched.Id);
        }
    }

    /// <summary>A person answers for an alert; false when there is none.</summary>
    public bool Take(string alert, string person, string note, DateTimeOffset now)
    {
        if (!Book.Alerts.TryGetValue(alert, out var known))
        {
            return false;
        }

        // A button pressed twice is one act.
        if (known.Alert.Taken is not { } taken || taken.Person != person || taken.Note != note)
        {
            Do(new WatchEvent.Answered(now, alert, person, note));
        }

        return true;
    }

    /// <summary>A person ends the watch over a job; false when it is not watched.</summary>
    public bool End(string device, string job, string person, string reason, DateTimeOffset now)
    {
        var ends = Book.Of(device).Where(watched => watched.Id.Job == job).Select(watched => new WatchEvent.Ended(now, watched.Id, person, reason)).ToList();
        DoAll(ends);
        return ends.Count > 0;
    }

    private void About(WatchId id, Beat beat, DateTimeOffset now)
    {
        if (WatchRules.Opening(Book, id, beat, now) is { } opening)
        {
            Do(opening);
        }

        if (beat.CheckIn is { } stated && Book.Find(id) is { } watched && WatchRules.CheckIn(Book, watched, stated, now) is { } checkIn)
        {
            Do(checkIn);
        }

        // The latest place and name go into the alerts that this very beat makes.
        if (beat.Alerts.Count > 0)
        {
            Lose(book => rules.Heard(book, id.Device, beat, now));
        }

        DoAll(WatchRules.Calls(Book, id, beat, now));
    }

    private void DoAll(IEnumerable<WatchEvent> happened)
    {
        foreach (var one in happened.ToList())
        {
            Do(one);
        }
    }

    private void Do(WatchEvent happened)
    {
        events.Add(happened);
        if (happened is WatchEvent.Alerted or WatchEvent.Called or WatchEvent.Blinded)
        {
            Lose(book => rules.Apply(book, happened));
        }
        else
        {
            Book = rules.Apply(Book, happened);
        }
    }

    private void Lose(Func<WatchBook, WatchBook> loss)
    {
        losses.Add(loss);
        Book = loss(Book);
    }

    private void Look(WatchId id)
    {
        if (Book.Find(id) is { } watched)
        {
            due.Note(id, WatchRules.NextLook(Book, watched));
        }
    }
}
