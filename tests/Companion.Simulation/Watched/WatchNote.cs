using Companion.Contracts.Uplink;
using Companion.Watchroom.Watching;

namespace Companion.Simulation.Watched;

/// <summary>What somebody with a clock and a list would note of one job that the watch room was told of.</summary>
internal sealed class WatchNote(string device, string job)
{
    /// <summary>The tablet.</summary>
    public string Device => device;

    /// <summary>The job.</summary>
    public string Job => job;

    /// <summary>The latest check-in that arrived.</summary>
    public long? Kept { get; set; }

    /// <summary>The check-in that the deadline counts from.</summary>
    public long? Epoch { get; set; }

    /// <summary>When it was made, by the watch room's clock: received, less the age that it had.</summary>
    public DateTimeOffset? CheckedIn { get; set; }

    /// <summary>When overdue is raised; null when no check-in is awaited.</summary>
    public DateTimeOffset? OverdueFrom { get; set; }

    /// <summary>Check-ins after which nothing came and somebody was told.</summary>
    public HashSet<long> Missed { get; private init; } = [];

    /// <summary>When the tablet was last heard.</summary>
    public DateTimeOffset LastBeat { get; set; }

    /// <summary>The latest beat that was heard while nothing ailed the watch room's disk: later ones may be forgotten at a restart.</summary>
    public DateTimeOffset SureBeat { get; set; }

    /// <summary>When the link counts as silent.</summary>
    public DateTimeOffset SilentFrom { get; set; }

    /// <summary>True from a silent link to the next beat.</summary>
    public bool IsSilent { get; set; }

    /// <summary>How many silences had been told when the tablet was last heard.</summary>
    public int SilencesHeard { get; set; }

    /// <summary>How many silences were told.</summary>
    public int Silences => Alerts.Count(alert => alert.Kind == AlertKind.SilentLink);

    /// <summary>Since when the tablet says that it is elsewhere.</summary>
    public DateTimeOffset? GoneSince { get; set; }

    /// <summary>True once the watch has ended.</summary>
    public bool IsOver { get; set; }

    /// <summary>True for a job that was told of when nothing could be recorded: what it calls for is shown, and nobody watches it.</summary>
    public bool IsUnwatched { get; set; }

    /// <summary>True while it is watched.</summary>
    public bool IsLive => !IsOver && !IsUnwatched;

    /// <summary>The calls that were heard, with what each must have raised.</summary>
    public Dictionary<string, OwedAlert> Calls { get; private init; } = [];

    /// <summary>All that must have been raised over it.</summary>
    public List<OwedAlert> Alerts { get; private init; } = [];

    /// <summary>True while something about the person is not taken.</summary>
    public bool IsOpen => Alerts.Exists(alert => !alert.IsTaken && alert.Kind != AlertKind.SilentLink);

    /// <summary>The tablet was heard.</summary>
    public void Heard(DateTimeOffset now, TimeSpan silence) => (LastBeat, SilentFrom, IsSilent, SilencesHeard) = (now, now + silence, false, Silences);

    /// <summary>Another with the same in it, and with other copies of its alerts.</summary>
    public WatchNote Copy(IReadOnlyDictionary<OwedAlert, OwedAlert> alerts) => new(device, job)
    {
        Kept = Kept,
        Epoch = Epoch,
        CheckedIn = CheckedIn,
        OverdueFrom = OverdueFrom,
        Missed = [.. Missed],
        LastBeat = LastBeat,
        SureBeat = SureBeat,
        SilentFrom = SilentFrom,
        IsSilent = IsSilent,
        SilencesHeard = SilencesHeard,
        GoneSince = GoneSince,
        IsOver = IsOver,
        IsUnwatched = IsUnwatched,
        Calls = Calls.ToDictionary(call => call.Key, call => alerts[call.Value]),
        Alerts = [.. Alerts.Select(alert => alerts[alert])],
    };
}
