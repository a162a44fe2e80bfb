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
    public HashSet<long> Missed { get; } = [];

    /// <summary>When the tablet was last heard.</summary>
    public DateTimeOffset LastBeat { get; set; }

    /// <summary>True from a silent link to the next beat.</summary>
    public bool IsSilent { get; set; }

    /// <summary>Since when the tablet says that it is elsewhere.</summary>
    public DateTimeOffset? GoneSince { get; set; }

    /// <summary>True once the watch has ended.</summary>
    public bool IsOver { get; set; }

    /// <summary>The calls that were heard, with what each must have raised.</summary>
    public Dictionary<string, OwedAlert> Calls { get; } = [];

    /// <summary>All that must have been raised over it.</summary>
    public List<OwedAlert> Alerts { get; } = [];

    /// <summary>True while something about the person is not taken.</summary>
    public bool IsOpen => Alerts.Exists(alert => !alert.IsTaken && alert.Kind != AlertKind.SilentLink);
}

/// <summary>An alert that must stand.</summary>
/// <param name="Kind">Of which kind.</param>
/// <param name="Device">Over which tablet.</param>
/// <param name="Job">Over which job.</param>
/// <param name="Raised">Since when, exactly.</param>
/// <param name="CheckIn">The check-in that it is about, for one that is overdue.</param>
internal sealed record OwedAlert(AlertKind Kind, string Device, string Job, DateTimeOffset Raised, long? CheckIn)
{
    /// <summary>The product's name for it, once it has been seen.</summary>
    public string? Id { get; set; }

    /// <summary>True once a person took it.</summary>
    public bool IsTaken { get; set; }
}
