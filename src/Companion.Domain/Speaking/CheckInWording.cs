using Companion.Domain.CheckIn;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Reacting;

namespace Companion.Domain.Speaking;

/// <summary>What is said about check-ins. The quiet word is answered in the words of any other check-in.</summary>
public static class CheckInWording
{
    /// <summary>A check-in is due.</summary>
    public const string Now = "Check in now. Say, I am all right.";

    /// <summary>The margin has passed.</summary>
    public const string Missed = "Check-in missed. Say, I am all right. Or say, help me.";

    /// <summary>The words after an event; null when there are none.</summary>
    public static Say? Of(Job job, JobEvent happened) => happened switch
    {
        CheckInAsked { Stage: CheckInStage.Asked } => new Say(Weight.Step, "Check in, please. Say, I am all right.", 0),
        CheckInAsked => new Say(Weight.Alarm, Now, 0),
        CheckInUnanswered => new Say(Weight.Alarm, Missed, 0),
        CheckInMade => new Say(Weight.Step, $"Checked in. Next within {Wording.Duration(SecondsLeft(job))}.", 0),
        CallTaken { Person.Text: { } person } => new Say(Weight.Step, $"{person} answers your call.", 0) { Written = "Somebody answers the call." },
        NoSignalArranged => new Say(Weight.Step, "Recorded: no signal, and somebody expects your call.", 0),
        CallTaken => new Say(Weight.Step, "Somebody answers your call.", 0),
        _ => null,
    };

    private static long SecondsLeft(Job job) => (job.CheckIn!.Due - job.Clock.Full).SecondsRoundedUp;
}
