using System.Collections.Immutable;
using Companion.Contracts.Uplink;

namespace Companion.Watchroom.Watching;

/// <summary>Everything that the watch room knows at one time. All times are the watch room's own.</summary>
/// <param name="Version">Rises with every change.</param>
/// <param name="Watches">Everybody who is out.</param>
/// <param name="Alerts">Every alert, the latest first; taken ones among them.</param>
/// <param name="Blind">When the watch room itself was down and saw nothing.</param>
public sealed record WatchView(
    long Version, ImmutableArray<Watch> Watches, ImmutableArray<Alert> Alerts, ImmutableArray<BlindPeriod> Blind);

/// <summary>One technician who is out.</summary>
public sealed record Watch
{
    /// <summary>The tablet.</summary>
    public required string Device { get; init; }

    /// <summary>The job.</summary>
    public required string Job { get; init; }

    /// <summary>The latest beat, for what it tells of phase, place and waits.</summary>
    public required Beat Last { get; init; }

    /// <summary>When the latest beat was received.</summary>
    public required DateTimeOffset LastBeat { get; init; }

    /// <summary>The link counts as silent from here.</summary>
    public required DateTimeOffset SilentFrom { get; init; }

    /// <summary>Sequence of the last check-in that was kept; null when nobody is watched.</summary>
    public long? CheckIn { get; init; }

    /// <summary>When that check-in was received, less the age that it had then.</summary>
    public DateTimeOffset? CheckedInAt { get; init; }

    /// <summary>How old that check-in was when it was received.</summary>
    public TimeSpan CheckInAge { get; init; }

    /// <summary>When the next check-in falls due.</summary>
    public DateTimeOffset? Due { get; init; }

    /// <summary>When overdue is raised: <see cref="Due"/> and the margin.</summary>
    public DateTimeOffset? OverdueFrom { get; init; }
}

/// <summary>Somebody must be told.</summary>
/// <param name="Id">The same for ever: made of device, job, kind and the check-in or call that it belongs to, so that it cannot be raised twice.</param>
/// <param name="Kind">Why.</param>
/// <param name="Device">The tablet.</param>
/// <param name="Job">The job.</param>
/// <param name="Technician">Who is out there.</param>
/// <param name="Place">Where, in words, as last known; null when unknown.</param>
/// <param name="Raised">When.</param>
/// <param name="Detail">In plain words what is known and what is not.</param>
/// <param name="Taken">Who answers for it; null while nobody does.</param>
public sealed record Alert(
    string Id, AlertKind Kind, string Device, string Job, string Technician, string? Place, DateTimeOffset Raised, string Detail, Taken? Taken)
{
    /// <summary>True in a rehearsal: shown as such, told to nobody outside.</summary>
    public bool Rehearsal { get; init; }
}

/// <summary>Who answers for an alert.</summary>
/// <param name="Person">Their name.</param>
/// <param name="At">Since when.</param>
/// <param name="Note">What they wrote.</param>
public sealed record Taken(string Person, DateTimeOffset At, string Note);

/// <summary>Why somebody must be told.</summary>
public enum AlertKind
{
    /// <summary>A check-in is overdue.</summary>
    Overdue,

    /// <summary>Nothing is heard of the tablet: the person may be well.</summary>
    SilentLink,

    /// <summary>"Help me", casualty or leave now.</summary>
    Help,

    /// <summary>The quiet word.</summary>
    Quiet,

    /// <summary>A stop or live warning that nobody at the vehicle answered.</summary>
    Warning,

    /// <summary>The watch room itself cannot record or does not watch. Never in a <see cref="WatchView"/>: nobody can take it, it ends with its cause.</summary>
    WatchRoom,
}

/// <summary>The watch room was down.</summary>
/// <param name="From">The last time at which it certainly watched.</param>
/// <param name="To">When it watched again.</param>
public sealed record BlindPeriod(DateTimeOffset From, DateTimeOffset To);
