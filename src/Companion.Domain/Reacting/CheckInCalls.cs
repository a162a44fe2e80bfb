using Companion.Domain.CheckIn;
using Companion.Domain.Isolation;
using Companion.Domain.Speaking;
using Companion.Domain.Time;

namespace Companion.Domain.Reacting;

/// <summary>What is said again because nobody has checked in (I10).</summary>
public static class CheckInCalls
{
    /// <summary>While a check-in is due it is asked for this often.</summary>
    public static readonly Ticks DueAgain = Ticks.OfSeconds(20);

    /// <summary>Once it was missed, this often: whoever comes to the vehicle must hear it.</summary>
    public static readonly Ticks MissedAgain = Ticks.OfSeconds(60);

    /// <summary>The call between two times of <see cref="JobClock.Full"/>; null when none falls between.</summary>
    public static Say? Between(Job job, Ticks earlier, Ticks later) => job.CheckIn switch
    {
        { Stage: CheckInStage.Due } watch when Crossed(watch.Due, DueAgain, earlier, later) => new Say(Weight.Alarm, CheckInWording.Now, 0),
        { Stage: CheckInStage.Unanswered } watch when Crossed(watch.Overdue, MissedAgain, earlier, later) => new Say(Weight.Alarm, CheckInWording.Missed, 0),
        _ => null,
    };

    private static bool Crossed(Ticks since, Ticks every, Ticks earlier, Ticks later) =>
        earlier >= since && (later - since).Nanoseconds / every.Nanoseconds > (earlier - since).Nanoseconds / every.Nanoseconds;
}
