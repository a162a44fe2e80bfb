using Companion.Domain.Asking;
using Companion.Domain.Events;

namespace Companion.Domain.Deciding;

/// <summary>How a job ends.</summary>
internal static class EndRules
{
    /// <summary>
    /// Closing needs that nothing was ever opened: otherwise the vehicle is handed over, still marked. A disturbance clears what is known to be
    /// open, not what stands open on the vehicle.
    /// </summary>
    public static Refusal? Close(Turn turn, CloseJob close)
    {
        if (turn.Job.EverOpened)
        {
            return Refuse(turn, "Points have been opened on this vehicle. Hand it over, still marked, instead of closing the job.");
        }

        turn.Add(new JobClosed(close.Reason));
        return null;
    }

    /// <summary>There is one job at a time; the refusal of a second stands in the record of the first (I9).</summary>
    public static Refusal StillOpen(Turn turn) => Refuse(turn, "A job is already open. End it or hand it over first.");

    private static Refusal Refuse(Turn turn, string reason)
    {
        turn.Add(new StepRefused(string.Empty, By.Touch, 1000, reason, 0));
        return new Refusal(reason);
    }
}
