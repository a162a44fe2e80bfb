namespace Companion.Domain.Isolation;

/// <summary>A line of the lock register: one lock with its tag, which only its holder takes off again.</summary>
/// <param name="Point">Where it is fitted.</param>
/// <param name="Number">Its number.</param>
/// <param name="Holder">Crew number of who fitted it.</param>
/// <param name="At">Sequence of the fitting.</param>
public sealed record FittedLock(PointId Point, string Number, string Holder, long At);
