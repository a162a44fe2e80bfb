using Companion.Domain.Events;

namespace Companion.Domain.Deciding;

/// <summary>How a job ends.</summary>
internal static class EndRules
{
    /// <summary>Closing needs that nothing is open: a vehicle with an open point is handed over, still marked.</summary>
    public static Refusal? Close(Turn turn, CloseJob close)
    {
        if (turn.Job.IsolationBegun)
        {
            return new Refusal("Points have been opened on this vehicle. Hand it over, still marked, instead of closing the job.");
        }

        turn.Add(new JobClosed(close.Reason));
        return null;
    }
}
