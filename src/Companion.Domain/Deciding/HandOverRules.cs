using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Domain.Deciding;

/// <summary>Handing over, as what it is: live, isolated and marked, or put back.</summary>
internal static class HandOverRules
{
    /// <summary>True for the phrases that hand over.</summary>
    public static bool Is(Phrase? phrase) => phrase is Phrase.HandOver or Phrase.HandOverExchanged;

    /// <summary>Why it cannot be handed over so.</summary>
    public static Refusal? Check(Job job, Phrase phrase) => phrase == Phrase.HandOverExchanged && job.Locks.IsEmpty
        ? new Refusal("No lock is fitted that could be exchanged. Say hand over.")
        : null;

    /// <summary>Records it.</summary>
    public static void HandOver(Turn turn, Phrase phrase) => turn.Add(new JobHandedOver(
        ReasonOf(turn.Job),
        turn.Job.Locks.IsEmpty ? LocksAtHandOver.None : phrase == Phrase.HandOver ? LocksAtHandOver.Left : LocksAtHandOver.Exchanged));

    private static string ReasonOf(Job job) => job.Halt?.Reason
        ?? (PuttingBack.IsComplete(job) ? "Put back: every lock removed, every point closed."
            : job.PuttingBack ? "Partly put back. Treat as live."
            : job.Clearance is null ? "Treat as live."
            : "Isolated and marked.");
}
