using Companion.Domain.Asking;

namespace Companion.Domain.Isolation;

/// <summary>
/// Everybody who works has a lock and a tag of their own on every point, and a point is locked as long as one of them is on it (a lock
/// names the person: 29 CFR 1910.147(c)(5)(ii); everybody's own in group work: 1910.147(f)(3), from memory).
/// </summary>
public static class LockRegister
{
    /// <summary>The locks at a point, in the order in which they were fitted.</summary>
    public static IEnumerable<FittedLock> At(Job job, PointId point) => job.Locks.Where(fitted => fitted.Point == point);

    /// <summary>The first who works and has no lock on this point since it was opened; null when nobody is left out.</summary>
    public static string? Lacking(Job job, PointId point) => job.Points.TryGetValue(point, out var state)
        ? job.Workers.FirstOrDefault(worker => !At(job, point).Any(fitted => fitted.Holder == worker && fitted.At > state.OpenedAt))
        : job.Technician;

    /// <summary>A lock whose holder no longer works here, on a point that holds without it; null when there is none.</summary>
    public static FittedLock? Orphan(Job job) =>
        job.Locks.FirstOrDefault(fitted => !job.Workers.Contains(fitted.Holder) && Lacking(job, fitted.Point) is null);

    /// <summary>The question for the removal of a lock.</summary>
    public static Need Removal(FittedLock fitted) => new(NeedKind.RemoveLock, $"{fitted.Point}{TestItems.Separator}{fitted.Number}");

    /// <summary>The lock that a question is about; null when the register does not hold it.</summary>
    public static FittedLock? Of(Job job, Need need) => job.Locks.FirstOrDefault(fitted => Removal(fitted) == need);
}
