using Companion.Domain.Sheets;

namespace Companion.Domain.Isolation;

/// <summary>When a step counts as done. Because the current step is derived, a void leads back to what must be done again (I5, I6).</summary>
public static class StepRules
{
    /// <summary>True when the step needs nothing more.</summary>
    public static bool Satisfied(Job job, Step step) => step.Kind switch
    {
        StepKind.Act or StepKind.Cover => job.Done.Contains(step.Id),
        StepKind.Open => step.Point is { } point && job.Points.ContainsKey(point),
        StepKind.Lock => step.Point is { } point && job.Points.ContainsKey(point) && LockRegister.Lacking(job, point) is null,
        StepKind.Wait => step.Wait is { } wait && job.Waits.TryGetValue(wait, out var run) && run.CompletedAt is not null,
        StepKind.Test => step.TestPlace is { } place && job.Proofs.ContainsKey(place),
        StepKind.Clear => job.Clearance is not null,
        _ => false,
    };
}
