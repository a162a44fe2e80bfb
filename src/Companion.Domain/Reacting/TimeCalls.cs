using Companion.Domain.Isolation;
using Companion.Domain.Speaking;
using Companion.Domain.Time;

namespace Companion.Domain.Reacting;

/// <summary>What is said because time passed and nothing else happened.</summary>
public static class TimeCalls
{
    /// <summary>An alarm that was not answered is given again so long after its end.</summary>
    public static readonly Ticks AlarmAgain = Ticks.OfSeconds(8);

    private static readonly long[] Calls = [300, 60, 10];

    /// <summary>The calls between two counted times: "front link, 5 minutes left".</summary>
    public static IEnumerable<Effect> Between(Job job, Ticks earlier, Ticks later)
    {
        foreach (var run in job.Waits.Values.Where(run => run.CompletedAt is null).OrderBy(run => run.StartedAt))
        {
            foreach (var seconds in Calls.Where(seconds => seconds < run.Rule.Seconds && Crossed(run, seconds, earlier, later)))
            {
                yield return new Say(Weight.TimeCall, $"{run.Rule.Name}, {Wording.Duration(seconds)} left.", 0);
            }
        }
    }

    private static bool Crossed(WaitRun run, long seconds, Ticks earlier, Ticks later) =>
        run.Remaining(earlier) > Ticks.OfSeconds(seconds) && run.Remaining(later) <= Ticks.OfSeconds(seconds);
}
