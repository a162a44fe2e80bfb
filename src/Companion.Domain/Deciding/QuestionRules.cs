using Companion.Domain.Asking;
using Companion.Domain.Events;

namespace Companion.Domain.Deciding;

/// <summary>Keeps the open question equal to what is needed. There is never more than one.</summary>
internal static class QuestionRules
{
    public static void Ask(Turn turn)
    {
        var need = Needs.Of(turn.Job);
        if (need.Kind == NeedKind.Nothing || (turn.Job.Question?.Need == need && !turn.AskAnew))
        {
            return;
        }

        turn.AskAnew = false;
        turn.Add(new QuestionAsked(need.Kind, need.Subject));
        if (need.Kind == NeedKind.SoundCheck)
        {
            turn.AskCode();
        }
    }
}
