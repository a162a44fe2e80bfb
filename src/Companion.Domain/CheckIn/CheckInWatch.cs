using System.Collections.Immutable;
using Companion.Domain.Time;

namespace Companion.Domain.CheckIn;

/// <summary>
/// The watch over the technician, as the entries of a job left it (I10). Times are of <see cref="JobClock.Full"/>, which counts every gap in
/// full; only a person's check-in moves <see cref="Due"/> to a later time.
/// </summary>
public sealed record CheckInWatch
{
    /// <summary>The operator's arrangement.</summary>
    public required CheckInPolicy Policy { get; init; }

    /// <summary>The sequence of the last check-in; the opening of the job counts as the first.</summary>
    public required long Sequence { get; init; }

    /// <summary>When the last check-in began.</summary>
    public required Ticks Made { get; init; }

    /// <summary>The running period in which it was made: its age is certain only within it.</summary>
    public required string BootId { get; init; }

    /// <summary>The phase that the present interval belongs to.</summary>
    public required WorkPhase Phase { get; init; }

    /// <summary>From the last check-in to <see cref="Due"/>, in seconds.</summary>
    public required int IntervalSeconds { get; init; }

    /// <summary>From due to the alert, in seconds.</summary>
    public required int MarginSeconds { get; init; }

    /// <summary>When the next check-in falls due.</summary>
    public required Ticks Due { get; init; }

    /// <summary>How far the asking has gone.</summary>
    public CheckInStage Stage { get; init; }

    /// <summary>When nobody answering becomes an alert.</summary>
    public Ticks Overdue => Due + Ticks.OfSeconds(MarginSeconds);

    /// <summary>What must reach somebody elsewhere.</summary>
    public ImmutableArray<OutsideCall> Calls { get; init; } = [];
}

/// <summary>How far the asking for a check-in has gone, least first.</summary>
public enum CheckInStage
{
    /// <summary>Not yet.</summary>
    Quiet,

    /// <summary>Asked before it was due.</summary>
    Asked,

    /// <summary>It is due: asked louder, again and again.</summary>
    Due,

    /// <summary>The margin has passed too.</summary>
    Unanswered,
}

/// <summary>Something that must reach somebody elsewhere.</summary>
/// <param name="Sequence">The sequence of the entry that called.</param>
/// <param name="Kind">What is called for.</param>
/// <param name="Made">When, by <see cref="JobClock.Full"/>.</param>
/// <param name="Taken">True once somebody answers for it.</param>
public sealed record OutsideCall(long Sequence, OutsideCallKind Kind, Ticks Made, bool Taken = false);

/// <summary>What is called for.</summary>
public enum OutsideCallKind
{
    /// <summary>Help: asked for, somebody is hurt, or everybody leaves.</summary>
    Help,

    /// <summary>The quiet word. Nothing on the tablet tells it from a check-in, for ever.</summary>
    Quiet,
}
