using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Domain.Deciding;

/// <summary>
/// Locks go on under a number of their own and come off by the hand that fitted them, or by the employer's recorded procedure when that
/// person is not there (29 CFR 1910.147(e)(3), from memory).
/// </summary>
internal static class LockRules
{
    /// <summary>Digits of a lock's number, at most.</summary>
    public const int MostDigits = 6;

    /// <summary>Why this lock cannot be fitted here.</summary>
    public static Refusal? CheckFitting(Job job, Need need, Echo? echo)
    {
        if (!PeopleRules.IsNumber(echo?.Number, MostDigits))
        {
            return new Refusal("Say fitted, lock, and the number of the lock.");
        }

        var (point, holder) = Fitting(job, need);
        return job.Locks.Any(fitted => fitted.Number == echo.Number && (fitted.Point != point || fitted.Holder != holder))
            ? new Refusal($"Lock {Speaking.Wording.Digits(echo.Number)} is fitted elsewhere on this job. Every lock has one place and one holder.")
            : null;
    }

    /// <summary>Records the lock.</summary>
    public static void Fit(Turn turn, Need need, Echo echo)
    {
        var (point, holder) = Fitting(turn.Job, need);
        turn.Add(new PointLocked(point, echo.Number!, echo.Number!, holder));
    }

    /// <summary>Why this lock cannot come off so.</summary>
    public static Refusal? CheckRemoval(Job job, Need need, Echo echo)
    {
        var fitted = LockRegister.Of(job, need)!;
        if (echo.Phrase == Phrase.ByProcedure)
        {
            return !PeopleRules.IsNumber(echo.Number, PeopleRules.MostDigits)
                ? new Refusal("Say by procedure, and the crew number of the person who answers for it.")
                : echo.Number == fitted.Holder ? new Refusal("The procedure is for a holder who is not there. The person who fitted the lock says removed.") : null;
        }

        if (echo.Number == fitted.Number)
        {
            return null;
        }

        return job.Locks.FirstOrDefault(other => other.Number == echo.Number) is { } other && other.Holder != fitted.Holder
            ? new Refusal($"Lock {Speaking.Wording.Digits(other.Number)} belongs to crew number {Speaking.Wording.Digits(other.Holder)}. Only the person who fitted a lock removes it.")
            : new Refusal($"It is the turn of lock {Speaking.Wording.Digits(fitted.Number)}. Say removed, lock, and its number.");
    }

    /// <summary>Records the removal.</summary>
    public static void Remove(Turn turn, Need need, Echo echo)
    {
        var fitted = LockRegister.Of(turn.Job, need)!;
        var procedure = echo.Phrase == Phrase.ByProcedure;
        turn.Add(new PointUnlocked(fitted.Point, fitted.Number, fitted.Holder, procedure ? echo.Number! : fitted.Holder, procedure));
    }

    private static (PointId Point, string Holder) Fitting(Job job, Need need)
    {
        var parts = need.Subject.Split(TestItems.Separator);
        var step = job.Way!.Steps.First(candidate => candidate.Id.Value == parts[0]);
        return (step.Point!.Value, parts.Length > 1 ? parts[1] : job.Technician);
    }
}
