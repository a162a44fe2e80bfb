using System.Diagnostics.CodeAnalysis;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Domain.Deciding;

/// <summary>Who is there and who works: arriving permits and needs a code, leaving takes away and acts at once (I16, I23).</summary>
internal static class PeopleRules
{
    /// <summary>Digits of a crew number, at most.</summary>
    public const int MostDigits = 4;

    /// <summary>What a phrase says of a person; null when it says nothing of one.</summary>
    public static PersonChange? ChangeOf(Phrase? phrase) => phrase switch
    {
        Phrase.PersonArrived => PersonChange.Arrived,
        Phrase.PersonLeft => PersonChange.Left,
        Phrase.PersonJoins => PersonChange.Joined,
        Phrase.PersonTakesOver => PersonChange.TookOver,
        _ => null,
    };

    /// <summary>True for a number of digits, not too long.</summary>
    public static bool IsNumber([NotNullWhen(true)] string? number, int most) =>
        number is { Length: > 0 } && number.Length <= most && number.All(char.IsAsciiDigit);

    /// <summary>Why the change cannot be recorded.</summary>
    public static Refusal? Check(Job job, Need need, PersonChange change, string? number)
    {
        if (!IsNumber(number, MostDigits))
        {
            return new Refusal("Say other, the crew number, and ready, work, take over or left.");
        }

        if (need.Kind is NeedKind.AlarmHeard or NeedKind.NothingTouched or NeedKind.SoundCheck or NeedKind.StandOff or NeedKind.HandOver)
        {
            return new Refusal(Speaking.Wording.Missing(job, need));
        }

        return change switch
        {
            PersonChange.Arrived when job.Present.Contains(number) || job.Technician == number => new Refusal($"Crew number {Speaking.Wording.Digits(number)} is here already."),
            PersonChange.Joined when job.Workers.Contains(number) => new Refusal($"Crew number {Speaking.Wording.Digits(number)} works here already."),
            PersonChange.TookOver when job.Technician == number => new Refusal($"Crew number {Speaking.Wording.Digits(number)} is the technician already."),
            PersonChange.Joined or PersonChange.TookOver when job.PuttingBack => new Refusal("The vehicle is being put back. Nobody new begins to work."),
            _ => null,
        };
    }

    /// <summary>Records it. A joining person has no lock yet, so that clear to work lapses; another technician starts from nothing proved (I15).</summary>
    public static void Change(Turn turn, PersonChange change, string number)
    {
        if (change == PersonChange.TookOver)
        {
            const string reason = "another technician takes over";
            VoidRules.VoidProofs(turn, _ => true, reason);
            VoidRules.AbandonTest(turn, reason);
            VoidRules.Lapse(turn, reason);
        }
        else if (change == PersonChange.Joined)
        {
            VoidRules.Lapse(turn, "somebody joins who has no lock here yet");
        }

        turn.Add(new PersonChanged(number, change));
    }

    /// <summary>Somebody is gone: whoever they are, at once. The technician is replaced, not dropped.</summary>
    public static Refusal? Leave(Turn turn, Answer answer)
    {
        if (!IsNumber(answer.Number, MostDigits))
        {
            return new Refusal("Say other, the crew number, and left.");
        }

        if (answer.Number == turn.Job.Technician)
        {
            return new Refusal("The technician does not leave an open job. Say other, the crew number, take over. Or say hand over.");
        }

        if (IsSomebodyElse(turn.Job, answer.Number))
        {
            var here = string.Join(", ", turn.Job.Present.Order(StringComparer.Ordinal).Select(Speaking.Wording.Digits));
            return new Refusal($"Crew number {Speaking.Wording.Digits(answer.Number)} is not here. Here: {here}. Say other, the crew number, and left.");
        }

        turn.Add(new PersonChanged(answer.Number, PersonChange.Left));
        return null;
    }

    /// <summary>A number that is nobody's here was misheard, or is said otherwise than at the arrival: who left would still be counted as there.</summary>
    private static bool IsSomebodyElse(Job job, string number) =>
        !job.Present.IsEmpty && !job.Present.Contains(number) && !job.Present.Contains(Job.Unnumbered) && !job.Workers.Contains(number);
}
