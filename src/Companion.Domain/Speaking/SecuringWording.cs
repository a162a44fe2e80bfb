using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Domain.Speaking;

/// <summary>The words around locks, people, breaks and the way back.</summary>
public static class SecuringWording
{
    /// <summary>What is asked; empty for a question of another kind.</summary>
    public static string Ask(Job job, Need need) => need.Kind switch
    {
        NeedKind.CountTools when job.PuttingBack => "Count the tools that came back. Say checked, and how many, digit by digit.",
        NeedKind.CountTools => "Count the tools that go to the vehicle. Say checked, and how many, digit by digit.",
        NeedKind.Working => "When the work ends: say done work to put the vehicle back, or hand over to leave it isolated. For a break, say off work.",
        NeedKind.EverybodyAway => "See that nothing is left behind, every guard is back, and everybody stands away from the vehicle. Then say ready.",
        NeedKind.Uncover => "Take the cover off the live side. It is live. Say uncovered.",
        NeedKind.RemoveLock => Removal(job, need),
        NeedKind.ClosePoint => $"Put it back: {PointName(job, new PointId(need.Subject))}. What it feeds is then live. When that is done, say closed.",
        NeedKind.PutBack => "Every lock is removed and every point is closed. The vehicle is live. Say hand over.",
        _ => string.Empty,
    };

    /// <summary>What is missing, in the words of a refusal; null for a question of another kind.</summary>
    public static string? Missing(Job job, Need need) => need.Kind switch
    {
        NeedKind.CountTools => "First count the tools.",
        NeedKind.EverybodyAway => "First everybody stands away.",
        NeedKind.Uncover => "First the cover of the live side comes off.",
        NeedKind.RemoveLock => $"First lock {Wording.Digits(LockRegister.Of(job, need)?.Number)} is removed.",
        NeedKind.ClosePoint => $"The next to close: {PointName(job, new PointId(need.Subject))}.",
        NeedKind.PutBack => "Everything is put back. Say hand over.",
        _ => null,
    };

    /// <summary>What was heard, repeated; null for a phrase of another kind.</summary>
    public static string? Heard(Job job, Echo echo) => echo.Phrase switch
    {
        Phrase.Tools => $"Tools, {Wording.Digits(echo.Number)}",
        Phrase.Removed => $"Lock {Wording.Digits(echo.Number)} removed",
        Phrase.ByProcedure => $"Removed by procedure, crew number {Wording.Digits(echo.Number)} answers for it",
        Phrase.PersonArrived => $"Person {Wording.Digits(echo.Number)} arrived",
        Phrase.PersonJoins => $"Person {Wording.Digits(echo.Number)} joins the work",
        Phrase.PersonTakesOver => $"Person {Wording.Digits(echo.Number)} takes over",
        Phrase.HandOverExchanged => "Hand over, locks exchanged",
        Phrase.HandOver when !job.Locks.IsEmpty => $"Hand over, {Count(job.Locks.Length)} left fitted. If locks were exchanged, say wrong, then hand over other lock",
        _ => null,
    };

    /// <summary>The statement of what was recorded; null for an event of another kind.</summary>
    public static string? Recorded(Job job, JobEvent happened) => happened switch
    {
        PointLocked locked => $"Recorded: lock {Wording.Digits(locked.Lock)} fitted.",
        PointUnlocked { Procedure: true } unlocked =>
            $"Recorded: lock {Wording.Digits(unlocked.Lock)} of crew number {Wording.Digits(unlocked.Holder)} removed by procedure.",
        PointUnlocked unlocked => $"Recorded: lock {Wording.Digits(unlocked.Lock)} removed.",
        PointClosed closed => $"Recorded: {PointName(job, closed.Point)} closed. What it feeds is live.",
        ToolsCounted { Back: true } => "Recorded: all tools are back.",
        ToolsCounted counted => $"Recorded: tools, {Wording.Digits(counted.Count.ToString(System.Globalization.CultureInfo.InvariantCulture))}.",
        PersonChanged changed => $"Recorded: person {Wording.Digits(changed.Person)} {Words(changed.Change)}.",
        PhaseEntered { Which: JobPhase.Break } => "Recorded: a break.",
        PhaseEntered => "The vehicle is being put back. Nothing is proved any more. Treat as live.",
        JobHandedOver when job.StandOff is { } off => SceneWording.Quarantine(off),
        JobHandedOver when PuttingBack.IsComplete(job) => "Recorded: handed over, put back. Take the marking off last.",
        JobHandedOver => "Recorded: handed over. Leave the marking on the vehicle.",
        _ => null,
    };

    private static string Removal(Job job, Need need)
    {
        if (LockRegister.Of(job, need) is not { } fitted)
        {
            return string.Empty;
        }

        var remove = $"remove your lock {Wording.Digits(fitted.Number)}, {PointName(job, fitted.Point)}. Say removed, lock, and its number.";
        return fitted.Holder == job.Technician
            ? $"{char.ToUpperInvariant(remove[0])}{remove[1..]}"
            : $"Crew number {Wording.Digits(fitted.Holder)}, {remove} If they are not there, say by procedure, and the crew number of the person who answers for it.";
    }

    private static string Words(PersonChange change) => change switch
    {
        PersonChange.Arrived => "arrived",
        PersonChange.Left => "left",
        PersonChange.Joined => "joins the work",
        _ => "is the technician from here on. Look the equipment over, and test again",
    };

    private static string Count(int locks) => locks == 1 ? "1 lock" : $"{locks} locks";

    private static string PointName(Job job, PointId id) => job.Sheet?.Points.FirstOrDefault(point => point.Id == id)?.Name ?? id.Value;
}
