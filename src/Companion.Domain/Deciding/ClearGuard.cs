using Companion.Domain.Asking;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Domain.Speaking;
using Companion.Domain.Time;

namespace Companion.Domain.Deciding;

/// <summary>The guard of "clear to work": every point open and locked, every place proved dead, nothing in doubt.</summary>
internal static class ClearGuard
{
    /// <summary>What is missing, in words; empty when nothing is.</summary>
    public static string Missing(Job job, Ticks counted)
    {
        if (job.Way is not { } way)
        {
            return "No sheet is chosen.";
        }

        if (job.Doubt || job.Halt is not null || job.Alarm is not null)
        {
            return "First answer the warning or the question that is open.";
        }

        if (job.PuttingBack)
        {
            return "The vehicle is being put back.";
        }

        if (job.Clearance is not null)
        {
            return "It is given already.";
        }

        var unsatisfied = way.Steps.FirstOrDefault(step => step.Kind != StepKind.Clear && !StepRules.Satisfied(job, step));
        if (unsatisfied is not null)
        {
            return Wording.Missing(job, Needs.Of(job));
        }

        return Unproved(job, way, counted);
    }

    /// <summary>When the next test is due if it is given now: no later than for the proofs on which it was given before.</summary>
    public static Ticks RetestDue(Job job, Moment moment)
    {
        var due = moment.Boot + Ticks.OfSeconds(job.Sheet!.RetestMinutes * 60L);
        return job.RetestDue < due ? job.RetestDue.Value : due;
    }

    /// <summary>Seconds left of the longest wait that runs; 0 when none does.</summary>
    public static long RemainingSeconds(Job job, Ticks counted) => job.Waits.Values
        .Where(run => run.CompletedAt is null)
        .Select(run => run.Remaining(counted).SecondsRoundedUp)
        .DefaultIfEmpty(0)
        .Max();

    private static string Unproved(Job job, SheetWay way, Ticks counted)
    {
        var bare = way.Points.Where(point => point.Lockable && LockRegister.Lacking(job, point.Id) is not null);
        var closed = way.Points.Where(point => !job.Points.ContainsKey(point.Id));
        var names = bare.Concat(closed).Select(point => point.Name).Distinct().ToList();
        if (names.Count > 0)
        {
            return $"Not open and locked: {string.Join(", ", names)}.";
        }

        var places = way.TestPlaces.Where(place => !job.Proofs.ContainsKey(place.Id)).Select(place => place.Name).ToList();
        if (places.Count > 0)
        {
            return $"Not proved dead: {string.Join(", ", places)}.";
        }

        return RemainingSeconds(job, counted) > 0 ? "A wait is still running." : string.Empty;
    }
}
