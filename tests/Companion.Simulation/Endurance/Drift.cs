using Companion.Domain;
using Companion.Domain.Time;
using Companion.Engine;

namespace Companion.Simulation.Endurance;

/// <summary>Compares the end of every wait with the true end, on CLOCK_BOOTTIME: how late the worst was, and whether any was early.</summary>
internal sealed class Drift
{
    private readonly Dictionary<(WaitId Wait, long StartedAt), Ticks> _ends = [];

    /// <summary>Waits that ended.</summary>
    public int Completed { get; private set; }

    /// <summary>Waits that ended before their time.</summary>
    public int Early { get; private set; }

    /// <summary>How late the latest was.</summary>
    public long WorstNanoseconds { get; private set; }

    /// <summary>Looks at a state.</summary>
    public void Look(Snapshot snapshot)
    {
        foreach (var run in snapshot.Job?.Waits.Values ?? [])
        {
            var key = (run.Rule.Id, run.StartedAt);
            if (run.CompletedAt is null)
            {
                _ends.TryAdd(key, snapshot.Moment.Boot + Ticks.OfSeconds(run.Rule.Seconds));
            }
            else if (_ends.Remove(key, out var due))
            {
                Completed++;
                var late = (snapshot.Moment.Boot - due).Nanoseconds;
                Early += late < 0 ? 1 : 0;
                WorstNanoseconds = Math.Max(WorstNanoseconds, late);
            }
        }
    }
}
