using Companion.Domain.Sheets;
using Companion.Domain.Time;

namespace Companion.Domain.Isolation;

/// <summary>A wait that has been started and not voided.</summary>
/// <param name="Rule">The sheet's rule.</param>
/// <param name="StartedAt">Sequence of its start.</param>
/// <param name="StartedCounted">Counted time at its start; the elapsed time is the counted time since.</param>
/// <param name="CompletedAt">Sequence of its completion; null while it runs.</param>
public sealed record WaitRun(WaitRule Rule, long StartedAt, Ticks StartedCounted, long? CompletedAt)
{
    /// <summary>What is left at a counted time; zero once completed.</summary>
    public Ticks Remaining(Ticks counted)
    {
        if (CompletedAt is not null)
        {
            return Ticks.Zero;
        }

        var left = Ticks.OfSeconds(Rule.Seconds) - (counted - StartedCounted);
        return left < Ticks.Zero ? Ticks.Zero : left;
    }
}
