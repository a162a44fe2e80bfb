using System.Collections.Immutable;
using Companion.Domain.Arrival;
using Companion.Domain.CheckIn;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Domain.Sheets;
using Companion.Domain.Time;

namespace Companion.Domain.Events;

/// <summary>A job began. The quiet word is personal: an export of the job must not tell it.</summary>
public sealed record JobOpened(
    string Technician,
    Personal Name,
    Personal? SecondPerson,
    bool Rehearsal,
    ExposurePolicy Policy,
    RatingPolicy Rating,
    ImmutableArray<KitItem> Kit,
    DateTimeOffset LatestWall,
    Ticks Awake,
    Personal? Place = null,
    ArrivalList? Arrival = null,
    string? Linked = null,
    CheckInPolicy? Watch = null,
    Personal? Quiet = null,
    bool HasWatchroom = false) : JobEvent;

/// <summary>A job ended.</summary>
public sealed record JobClosed(string Reason) : JobEvent;

/// <summary>The vehicle was handed over.</summary>
/// <param name="Reason">As what.</param>
/// <param name="Locks">What became of the locks.</param>
public sealed record JobHandedOver(string Reason, LocksAtHandOver Locks = LocksAtHandOver.None) : JobEvent;

/// <summary>What becomes of the locks when a vehicle is handed over.</summary>
public enum LocksAtHandOver
{
    /// <summary>None is fitted.</summary>
    None,

    /// <summary>They stay on; their holders answer for them.</summary>
    Left,

    /// <summary>Whoever takes over fitted locks of their own first, and the others were taken off.</summary>
    Exchanged,
}

/// <summary>The whole sheet, as the job will follow it whatever happens to the file.</summary>
public sealed record SheetPinned(Sheet Sheet, string Digest, string Approver) : JobEvent;

/// <summary>An alternative way is followed from here.</summary>
public sealed record WayTaken(WayId Way, StepId Instead, InabilityReason Reason) : JobEvent;

/// <summary>A step cannot be done; the reason follows when it has been said.</summary>
public sealed record StepUnable(StepId Step, InabilityReason? Reason) : JobEvent;

/// <summary>A piece of equipment was looked over.</summary>
public sealed record KitChecked(KitId Item, KitKind Kind, string Rating, bool Ok, string? Reason) : JobEvent;

/// <summary>An anchor of the clocks.</summary>
/// <param name="Why">Start, tick, resume or step.</param>
/// <param name="Awake">CLOCK_MONOTONIC, so that a later sleep shows.</param>
public sealed record ClockAnchored(AnchorReason Why, Ticks Awake) : JobEvent;

/// <summary>Why an anchor was written.</summary>
public enum AnchorReason
{
    /// <summary>The process started and found the job open: a gap.</summary>
    Start,

    /// <summary>Ten seconds passed while a wait or deadline runs.</summary>
    Tick,

    /// <summary>The tablet slept or the loop stood still: a gap.</summary>
    Resume,

    /// <summary>The wall clock was set.</summary>
    Step,
}
