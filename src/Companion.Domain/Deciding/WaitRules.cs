using Companion.Domain.Events;

namespace Companion.Domain.Deciding;

/// <summary>When a wait starts: when the last point of the way that feeds its circuit is open, and never in doubt.</summary>
internal static class WaitRules
{
    public static void StartDue(Turn turn)
    {
        if (turn.Job.Way is not { } way || turn.Job.Doubt || turn.Job.Ended || turn.Job.PuttingBack || turn.Job.Halt is { Final: true })
        {
            return;
        }

        foreach (var wait in way.Waits.Where(wait => !turn.Job.Waits.ContainsKey(wait.Id)).ToList())
        {
            if (way.Feeders(wait.Circuit).All(point => turn.Job.Points.ContainsKey(point.Id)))
            {
                turn.Add(new WaitStarted(wait.Id, wait.Circuit, wait.Seconds));
            }
        }
    }
}
