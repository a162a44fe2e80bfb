using Companion.Domain.Time;

namespace Companion.Domain.Isolation;

/// <summary>Clear to work, until it lapses.</summary>
/// <param name="At">Sequence of the entry.</param>
/// <param name="Wall">Wall clock when it was given.</param>
/// <param name="RetestDue">CLOCK_BOOTTIME at which it lapses; a restart or sleep lapses it at once.</param>
/// <param name="DueWall">The same by the wall clock: only that is known to whoever holds a paper.</param>
public sealed record Clearance(long At, DateTimeOffset Wall, Ticks RetestDue, DateTimeOffset DueWall);
