using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Domain.Deciding;

/// <summary>The first stage of an answer: does the phrase fit the question, and may it be said now?</summary>
internal static class ClaimRules
{
    public static Refusal? Handle(Turn turn, Answer answer, Question question)
    {
        var need = question.Need;
        switch (answer.Phrase)
        {
            case Phrase.CannotDo:
                return EffectRules.CannotDo(turn, question, answer);
            case Phrase.Wrong when need.Kind == NeedKind.NothingTouched:
                return EffectRules.SomethingTouched(turn);
            case Phrase.Wrong when need.Kind == NeedKind.ConfirmContact:
                return TestRules.NoContact(turn, TestItems.PlaceOf(turn.Job, need));
            case Phrase.Wrong when need.Kind is NeedKind.InabilityReason or NeedKind.TakeWay or NeedKind.SceneReadBack:
                turn.Add(new AnswerCorrected(question.Sequence, answer.By));
                return null;
            case Phrase.ProvedDead when need.Kind != NeedKind.ClaimDead:
            case Phrase.ClearToWork when need.Kind != NeedKind.ClaimClear:
                return OutOfPlace(turn, answer);
        }

        var expected = Expectations.Of(need.Kind);
        var atAnyQuestion = HandOverRules.Is(answer.Phrase) || PeopleRules.ChangeOf(answer.Phrase) is not null;
        if (!atAnyQuestion && !expected.Phrases.Contains(answer.Phrase))
        {
            return new Refusal($"That belongs to another step. {Speaking.Wording.Missing(turn.Job, need)}");
        }

        var about = answer.Sheet is { Sheet: var sheet } ? $"{sheet.Vehicle}. The marking: {sheet.Marking}" : null;
        var echo = new Echo(answer.Phrase, answer.Number, answer.Below, answer.Kind, answer.Sheet?.Digest, about);
        var refusal = EffectRules.Check(turn, need, echo, answer);
        if (refusal is not null)
        {
            return refusal;
        }

        return Stage(turn, answer, question, echo, atAnyQuestion ? Confirmation.Code : expected.Confirmation);
    }

    /// <summary>"Proved dead" or "clear to work" said when it is not the turn of it: the refusal names what is missing, and the seconds.</summary>
    public static Refusal OutOfPlace(Turn turn, Answer answer) => answer.Phrase == Phrase.ProvedDead
        ? DeadGuard.NotYet(turn.Job, turn.Counted)
        : turn.Job.Clearance is not null ? new Refusal($"Clear to work was given already. Still live: {turn.Job.Sheet!.StaysLive}.")
        : new Refusal($"Refused: not clear to work. {ClearGuard.Missing(turn.Job, turn.Counted)}", ClearGuard.RemainingSeconds(turn.Job, turn.Counted));

    private static Refusal? Stage(Turn turn, Answer answer, Question question, Echo echo, Confirmation confirmation)
    {
        if (confirmation == Confirmation.None || answer.IsHold)
        {
            if (confirmation != Confirmation.None)
            {
                turn.Add(new CodeAccepted(question.Sequence, answer.By));
            }

            return EffectRules.Apply(turn, question.Need, echo, answer);
        }

        turn.Add(new AnswerEchoed(
            question.Sequence, echo.Phrase, echo.Number, echo.Below, echo.Kind, echo.Digest, answer.By, answer.Confidence, echo.About));
        if (confirmation == Confirmation.Code)
        {
            turn.AskCode();
        }

        return null;
    }
}
