using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Domain.Deciding;

/// <summary>
/// What becomes of something said or pressed: warnings need no question; information changes nothing; everything else counts only for
/// the question that was open when it began (I17).
/// </summary>
internal static class AnswerRules
{
    public static Refusal? Handle(Turn turn, Answer answer)
    {
        if (LosingRules.Handle(turn, answer))
        {
            return null;
        }

        if (answer.Phrase is Phrase.PersonLeft)
        {
            return Journalled(turn, answer, PeopleRules.Leave(turn, answer));
        }

        if (CheckInRules.IsCheckIn(answer.Phrase))
        {
            return Journalled(turn, answer, CheckInRules.Make(turn, answer));
        }

        if (answer.Phrase == Phrase.NoSignal)
        {
            return Journalled(turn, answer, LinkRules.Arrange(turn, answer));
        }

        if (answer.Phrase is Phrase.HowLong or Phrase.SayAgain)
        {
            turn.Add(new SpeechHeard(new Personal(answer.Text), answer.Phrase, true, string.Empty, answer.Confidence));
            return null;
        }

        return Journalled(turn, answer, Bound(turn, answer));
    }

    private static Refusal? Journalled(Turn turn, Answer answer, Refusal? refusal)
    {
        if (refusal is not null)
        {
            Journal(turn, answer, refusal);
        }

        return refusal;
    }

    private static Refusal? Bound(Turn turn, Answer answer)
    {
        if (turn.Job.Question is not { } question || !question.Admits(answer.Question, answer.Began))
        {
            return new Refusal("That answer began before the present question. Listen, then answer.");
        }

        if (answer.Phrase == Phrase.Temperature)
        {
            return HeatRules.Take(turn, answer);
        }

        if (answer.Phrase == Phrase.Watching)
        {
            return WatchingRules.Handle(turn, answer);
        }

        return question.Echo is not null || question.Code is not null
            ? ConfirmRules.Handle(turn, answer, question)
            : ClaimRules.Handle(turn, answer, question);
    }

    private static void Journal(Turn turn, Answer answer, Refusal refusal)
    {
        if (refusal.TestPlace is { } place)
        {
            turn.Add(new DeadRefused(place, refusal.Reason, refusal.RemainingSeconds));
            return;
        }

        var step = turn.Job.Question?.Need.Subject ?? string.Empty;
        turn.Add(new StepRefused(step, answer.By, answer.Confidence, refusal.Reason, refusal.RemainingSeconds));
    }
}
