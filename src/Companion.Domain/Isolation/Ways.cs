using Companion.Domain.Sheets;

namespace Companion.Domain.Isolation;

/// <summary>Where "cannot do" leads (I22).</summary>
public static class Ways
{
    /// <summary>
    /// The alternative way for a step, or null for "treat as live, keep away, hand over". Only ways that stand later in the sheet
    /// than the one that is followed are offered, so that no sequence of "cannot do" goes round in a loop; and none that would leave a plug open
    /// whose side that stays live is not covered (I15).
    /// </summary>
    public static AlternativeWay? After(Job job, StepId step)
    {
        if (job.Way is not { } way)
        {
            return null;
        }

        var alternatives = way.Sheet.Alternatives;
        var present = way.Id == WayId.Main ? -1 : alternatives.ToList().FindIndex(alternative => alternative.Id == way.Id);
        return alternatives.Skip(present + 1)
            .FirstOrDefault(alternative => alternative.For.Contains(step) && job.Opened.All(point => LeftPlugRules.Covers(way.Sheet, alternative, point)));
    }
}
