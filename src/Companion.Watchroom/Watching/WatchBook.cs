using System.Collections.Immutable;
using Companion.Contracts.Uplink;

namespace Companion.Watchroom.Watching;

/// <summary>
/// All that the watch room knows, as a value: every change makes a new one, so that what could not be recorded is undone by going on with
/// the old one. Pure; any thread.
/// </summary>
internal sealed record WatchBook
{
    /// <summary>Nothing known.</summary>
    public static readonly WatchBook Empty = new();

    /// <summary>What is watched, by tablet: mostly one watch each.</summary>
    public ImmutableDictionary<string, ImmutableArray<Watched>> Live { get; init; } = ImmutableDictionary<string, ImmutableArray<Watched>>.Empty;

    /// <summary>Watches that ended: an old beat must not bring one back.</summary>
    public ImmutableDictionary<WatchId, Watched> Over { get; init; } = ImmutableDictionary<WatchId, Watched>.Empty;

    /// <summary>All alerts by id, with their number in order of raising.</summary>
    public ImmutableDictionary<string, (Alert Alert, int Number)> Alerts { get; init; } = ImmutableDictionary<string, (Alert, int)>.Empty;

    /// <summary>When the watch room was down.</summary>
    public ImmutableArray<BlindPeriod> Blind { get; init; } = [];

    /// <summary>No deadline is held against anybody before this.</summary>
    public DateTimeOffset GraceUntil { get; init; } = DateTimeOffset.MinValue;

    /// <summary>A watch that goes on; null when there is none.</summary>
    public Watched? Find(WatchId id) => Of(id.Device).FirstOrDefault(watched => watched.Id == id);

    /// <summary>The watches of a tablet that go on.</summary>
    public ImmutableArray<Watched> Of(string device) => Live.GetValueOrDefault(device, []);

    /// <summary>A deadline, but not before the grace after a blind period is over.</summary>
    public DateTimeOffset NotInGrace(DateTimeOffset deadline) => deadline < GraceUntil ? GraceUntil : deadline;

    /// <summary>True when overdue has been raised for the check-in that the deadline counts from.</summary>
    public bool IsOverdueRaised(Watched watched) =>
        watched.Epoch is { } epoch && Alerts.ContainsKey(AlertId.Overdue(watched.Id, epoch));

    /// <summary>True when somebody has taken that alert.</summary>
    public bool IsOverdueTaken(Watched watched) =>
        watched.Epoch is { } epoch && Alerts.TryGetValue(AlertId.Overdue(watched.Id, epoch), out var raised) && raised.Alert.Taken is not null;

    /// <summary>
    /// True when an alert about the person has not been taken. One about the link is answered by the beat that came after it, and would
    /// otherwise keep the watch over a job that ended well until somebody is called for nothing.
    /// </summary>
    public bool IsOpen(Watched watched) => watched.Alerts.Any(id => Alerts[id].Alert is { Taken: null, Kind: not AlertKind.SilentLink });

    /// <summary>A beat was received from the tablet: a sign of life of the link to all its watches, news of the one that it names.</summary>
    public WatchBook Heard(string device, Beat beat, DateTimeOffset received, TimeSpan silentAfter)
    {
        var book = this;
        foreach (var watched in Of(device).Where(watched => !beat.Rehearsal || watched.Id.Rehearsal))
        {
            var isNamed = watched.Id.Job == beat.Job && watched.Id.Rehearsal == beat.Rehearsal;
            book = book.With(watched with
            {
                IsSilent = false,
                GoneSince = isNamed ? null : watched.GoneSince ?? received,
                Shown = watched.Shown with
                {
                    Last = isNamed ? beat : watched.Shown.Last,
                    LastBeat = received,
                    SilentFrom = NotInGrace(received + silentAfter),
                },
            });
        }

        return book;
    }

    /// <summary>With the texts of another book's alerts, which an erasure may have taken: those of an alert that nobody has taken stay.</summary>
    public WatchBook WithTextsOf(WatchBook left)
    {
        var book = this;
        foreach (var (id, (known, number)) in Alerts)
        {
            if (known.Taken is { } taken && left.Alerts.TryGetValue(id, out var kept))
            {
                var alert = known with { Kind = kept.Alert.Kind, Technician = kept.Alert.Technician, Place = kept.Alert.Place, Detail = kept.Alert.Detail };
                book = book with
                {
                    Alerts = book.Alerts.SetItem(id, (alert with { Taken = kept.Alert.Taken is { } by && by.At == taken.At ? by : taken }, number)),
                };
            }
        }

        return book;
    }

    /// <summary>With one watch changed or added.</summary>
    public WatchBook With(Watched watched)
    {
        var others = Of(watched.Id.Device);
        for (var at = 0; at < others.Length; at++)
        {
            if (others[at].Id == watched.Id)
            {
                return this with { Live = Live.SetItem(watched.Id.Device, others.SetItem(at, watched)) };
            }
        }

        return this with { Live = Live.SetItem(watched.Id.Device, others.Add(watched)) };
    }

    /// <summary>With one watch moved to those that are over.</summary>
    public WatchBook Without(Watched watched)
    {
        var rest = Of(watched.Id.Device).RemoveAll(other => other.Id == watched.Id);
        return this with
        {
            Live = rest.IsEmpty ? Live.Remove(watched.Id.Device) : Live.SetItem(watched.Id.Device, rest),
            Over = Over.SetItem(watched.Id, watched),
        };
    }
}
