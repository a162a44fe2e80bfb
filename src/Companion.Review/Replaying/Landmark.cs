using Companion.Domain.Events;

namespace Companion.Review.Replaying;

/// <summary>What one jumps to in a record.</summary>
public enum Landmark
{
    /// <summary>An answer, a code or a claim of "proved dead" was refused.</summary>
    Refusal,

    /// <summary>A warning was raised, or a check-in stayed out.</summary>
    Alert,

    /// <summary>A reading, or what the tester showed on its source.</summary>
    Reading,

    /// <summary>The job came on: a step was confirmed, a point or lock changed, a wait was over, something was proved; or a step cannot be done.</summary>
    Step,

    /// <summary>A wait, a proof or clear to work was lost.</summary>
    Void,
}

/// <summary>Which entries are which landmark. Pure.</summary>
public static class LandmarkKinds
{
    /// <summary>All of them.</summary>
    public static readonly IReadOnlyList<Landmark> All = Enum.GetValues<Landmark>();

    /// <summary>The landmark that an event is; null for most.</summary>
    public static Landmark? Of(JobEvent? happened) => happened switch
    {
        StepRefused or CodeFailed or DeadRefused => Landmark.Refusal,
        AlertRaised or CheckInUnanswered => Landmark.Alert,
        ReadingTaken or TesterProved => Landmark.Reading,
        StepConfirmed or StepUnable or WayTaken or SheetPinned or PointOpened or PointLocked or PointUnlocked or PointClosed
            or WaitCompleted or DeadProved or WorkCleared => Landmark.Step,
        WaitVoided or ProofVoided or WorkLapsed => Landmark.Void,
        _ => null,
    };
}
