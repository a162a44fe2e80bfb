using Companion.Domain.Asking;
using Companion.Domain.CheckIn;
using Companion.Domain.Time;

namespace Companion.Domain.Events;

/// <summary>A check-in was asked for: before it is due, or when it is.</summary>
/// <param name="Stage">Asked or due.</param>
/// <param name="Due">When it falls due, by the job's clock that counts gaps in full.</param>
public sealed record CheckInAsked(CheckInStage Stage, Ticks Due) : JobEvent;

/// <summary>Somebody checked in.</summary>
/// <param name="By">By what.</param>
/// <param name="Kind">Plain, or the quiet word: personal, so that an ordinary export does not tell them apart.</param>
/// <param name="Made">When it began.</param>
/// <param name="Due">When the next one falls due.</param>
/// <param name="Phase">The phase that the interval belongs to.</param>
/// <param name="IntervalSeconds">The interval.</param>
/// <param name="MarginSeconds">The margin.</param>
public sealed record CheckInMade(By By, Personal Kind, Ticks Made, Ticks Due, WorkPhase Phase, int IntervalSeconds, int MarginSeconds) : JobEvent
{
    /// <summary>The text of <see cref="Kind"/> for the quiet word.</summary>
    public const string QuietKind = "quiet";

    /// <summary>The text of <see cref="Kind"/> for every other check-in: as long as the other, so that not even its length tells.</summary>
    public const string PlainKind = "plain";
}

/// <summary>The next check-in falls due sooner than it would have: another phase began, a second person left, or the tablet was restarted.</summary>
/// <param name="Due">When it falls due now.</param>
/// <param name="Phase">The phase.</param>
/// <param name="IntervalSeconds">From the last check-in to <paramref name="Due"/>; after a reboot the phase's own.</param>
/// <param name="MarginSeconds">The margin.</param>
public sealed record CheckInSooner(Ticks Due, WorkPhase Phase, int IntervalSeconds, int MarginSeconds) : JobEvent;

/// <summary>Nobody answered until the margin had passed.</summary>
/// <param name="Due">When the check-in was due.</param>
public sealed record CheckInUnanswered(Ticks Due) : JobEvent;

/// <summary>The watch room answered.</summary>
public sealed record LinkHeard : JobEvent;

/// <summary>There is no signal, and somebody elsewhere expects a call.</summary>
public sealed record NoSignalArranged(By By) : JobEvent;

/// <summary>Somebody elsewhere answers for a call.</summary>
/// <param name="Call">The sequence of the entry that called.</param>
/// <param name="Person">Who.</param>
public sealed record CallTaken(long Call, Personal Person) : JobEvent;
