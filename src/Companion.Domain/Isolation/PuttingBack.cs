using Companion.Domain.Asking;
using Companion.Domain.Sheets;

namespace Companion.Domain.Isolation;

/// <summary>
/// The way back, with the same rigour: tools counted in, everybody away, then the sheet's steps in reverse order, cover off, locks off,
/// point closed. Points that another way had opened before come last, also those that were disturbed since. (What must be looked at before energy returns: 29 CFR 1910.147(e),
/// from memory.)
/// </summary>
public static class PuttingBack
{
    /// <summary>What is needed next.</summary>
    public static Need Next(Job job)
    {
        if (!job.ToolsAreIn)
        {
            return new Need(NeedKind.CountTools, string.Empty);
        }

        if (!job.EverybodyAway)
        {
            return new Need(NeedKind.EverybodyAway, string.Empty);
        }

        return job.Way!.Steps.Reverse().Select(step => Undoing(job, step))
            .Concat(Beside(job).Select(point => Undoing(job, point)))
            .FirstOrDefault(need => need is not null) ?? new Need(NeedKind.PutBack, string.Empty);
    }

    /// <summary>True when nothing is left to do or to answer: only then is the vehicle said to be put back.</summary>
    public static bool IsComplete(Job job) =>
        job is { PuttingBack: true, Halt: null, Alarm: null, Doubt: false } && Next(job).Kind == NeedKind.PutBack;

    /// <summary>True when the point counts as closed again: said and confirmed since the work was done.</summary>
    public static bool IsClosed(Job job, PointId point) => job.Closed.Contains(point);

    private static Need? Undoing(Job job, Step step) => step.Kind switch
    {
        StepKind.Cover when job.Done.Contains(step.Id) => new Need(NeedKind.Uncover, step.Id.Value),
        StepKind.Open => Undoing(job, step.Point!.Value),
        _ => null,
    };

    /// <summary>The technician's own lock comes off last.</summary>
    private static Need? Undoing(Job job, PointId point)
    {
        var fitted = LockRegister.At(job, point).OrderBy(one => one.Holder == job.Technician).FirstOrDefault();
        return fitted is not null ? LockRegister.Removal(fitted)
            : IsClosed(job, point) ? null
            : new Need(NeedKind.ClosePoint, point.Value);
    }

    private static IEnumerable<PointId> Beside(Job job) => job.Points.OrderByDescending(point => point.Value.OpenedAt).Select(point => point.Key)
        .Concat(job.Locks.Select(fitted => fitted.Point))
        .Concat(job.Opened.Reverse())
        .Where(point => job.Way!.Points.All(ofWay => ofWay.Id != point))
        .Distinct();
}
