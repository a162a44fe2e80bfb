using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Reacting;
using Companion.Domain.Sound;

namespace Companion.Domain.Speaking;

/// <summary>How people are told that sound is recorded.</summary>
public static class SoundWording
{
    /// <summary>What the screen shows for as long as the job lasts.</summary>
    /// <param name="policy">The operator's order.</param>
    /// <param name="begun">False while it is still to begin: after the sound check.</param>
    public static string OnScreen(SoundPolicy policy, bool begun) =>
        $"Sound is recorded{(begun ? string.Empty : " from the sound check on")}, kept {Days(policy.RetentionDays)}{(policy.ApprovedBy is { } name ? $", by order of {name}" : string.Empty)}.";

    /// <summary>The spoken announcement, when a job opens and to everybody who joins it; null at any other event. The name is on the screen.</summary>
    public static Say? Of(Job job, JobEvent happened) => job.Sound is { } policy && happened is SoundAnnounced or PersonChanged { Change: not PersonChange.Left }
        ? new Say(Weight.Step, $"Sound is recorded in this job, and kept for {Days(policy.RetentionDays)}.", 0)
        : null;

    private static string Days(int days) => days == 1 ? "1 day" : $"{days} days";
}
