using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Events;

namespace Companion.Domain.Deciding;

/// <summary>The second stage of a critical answer (I8): the echo is affirmed with a fresh code, or held; a reading is said again the same.</summary>
internal static class ConfirmRules
{
    /// <summary>After this many wrong codes in a row the refusal also points to the hold.</summary>
    public const int CodesBeforeHold = 3;

    public static Refusal? Handle(Turn turn, Answer answer, Question question)
    {
        if (answer.Phrase == Phrase.Wrong && question.Echo is not null)
        {
            turn.Add(new AnswerCorrected(question.Sequence, answer.By));
            return null;
        }

        if (answer.Phrase == Phrase.Affirm && answer.IsHold)
        {
            return Accept(turn, answer, question);
        }

        if (question.Code is null)
        {
            return SaidAgain(turn, answer, question);
        }

        if (answer.Phrase == Phrase.AffirmCode)
        {
            return answer.Number == question.Code ? Accept(turn, answer, question) : Fail(turn, answer, question);
        }

        return answer.Phrase switch
        {
            Phrase.Affirm => new Refusal("A code is needed: say affirm and the two digits, or hold the button."),
            Phrase.ProvedDead or Phrase.ClearToWork => ClaimRules.OutOfPlace(turn, answer),
            Phrase.CannotDo when question.Echo is null => EffectRules.CannotDo(turn, question, answer),
            _ when question.Echo is null => new Refusal("Say affirm and the two digits."),
            _ => new Refusal("First settle what was repeated: say affirm and the two digits, or wrong."),
        };
    }

    private static Refusal? SaidAgain(Turn turn, Answer answer, Question question)
    {
        var echo = question.Echo!;
        if (answer.Phrase is not (Phrase.Reading or Phrase.NothingShown))
        {
            return answer.Phrase is Phrase.ProvedDead or Phrase.ClearToWork
                ? ClaimRules.OutOfPlace(turn, answer)
                : new Refusal("Say the reading again, the same, or say wrong.");
        }

        if (SameReading(answer, echo))
        {
            return Accept(turn, answer, question);
        }

        turn.Add(new AnswerCorrected(question.Sequence, answer.By));
        return ClaimRules.Handle(turn, answer, turn.Job.Question!);
    }

    private static bool SameReading(Answer answer, Echo echo) =>
        answer.Phrase == echo.Phrase
        && answer.Below == echo.Below
        && (answer.Kind is null || answer.Kind == echo.Kind)
        && Volts.TryParse(answer.Number) == Volts.TryParse(echo.Number);

    private static Refusal? Accept(Turn turn, Answer answer, Question question)
    {
        var refusal = EffectRules.Check(turn, question.Need, question.Echo, answer);
        if (refusal is not null)
        {
            turn.Add(new AnswerCorrected(question.Sequence, answer.By));
            return refusal;
        }

        turn.Add(new CodeAccepted(question.Sequence, answer.By));
        return EffectRules.Apply(turn, question.Need, question.Echo, answer);
    }

    private static Refusal Fail(Turn turn, Answer answer, Question question)
    {
        const string reason = "That is not the code. Listen to the new one.";
        turn.Add(new CodeFailed(question.Sequence, answer.By, reason));
        var failed = turn.Job.Question!.FailedCodes;
        turn.AskCode();
        return new Refusal(failed < CodesBeforeHold ? reason : reason + " Or hold the button.");
    }
}
