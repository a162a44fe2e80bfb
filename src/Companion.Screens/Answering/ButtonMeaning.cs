using Companion.Domain.Asking;
using Companion.Domain.Speaking;
using Companion.Screens.Gestures;
using Companion.Screens.Showing;

namespace Companion.Screens.Answering;

/// <summary>What the one physical button means now: tap and hold are the usual answer, double is "wrong" or "say again".</summary>
public static class ButtonMeaning
{
    /// <summary>The phrase of a sign.</summary>
    public static Phrase Of(ButtonSignKind sign, JobView view, Question? question)
    {
        if (sign == ButtonSignKind.Double)
        {
            return question is not null && PhraseBook.Offered(question).Contains(Phrase.Wrong) ? Phrase.Wrong : Phrase.SayAgain;
        }

        return view.Buttons.Primary is { Enabled: true, Phrase: { } phrase } ? phrase : Phrase.SayAgain;
    }
}
