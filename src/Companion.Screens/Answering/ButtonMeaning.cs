using Companion.Domain.Asking;
using Companion.Domain.Speaking;
using Companion.Screens.Gestures;
using Companion.Screens.Showing;

namespace Companion.Screens.Answering;

/// <summary>What the one physical button means now: tap and hold are the usual answer, double is "wrong", or a check-in while one is asked for, or "say
/// again". A check-in is not a hold: a body that lies on the button is no sign of life.</summary>
public static class ButtonMeaning
{
    /// <summary>The phrase of a sign.</summary>
    public static Phrase Of(ButtonSignKind sign, JobView view, Question? question)
    {
        if (sign == ButtonSignKind.Double)
        {
            return question is not null && PhraseBook.Offered(question).Contains(Phrase.Wrong) ? Phrase.Wrong
                : view.CheckInAsked is not null ? Phrase.AllRight
                : Phrase.SayAgain;
        }

        return view.Buttons.Primary is { Enabled: true, Phrase: { } phrase } ? phrase : Phrase.SayAgain;
    }
}
