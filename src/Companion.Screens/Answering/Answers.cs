using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Screens.Gestures;

namespace Companion.Screens.Answering;

/// <summary>Makes the answers that touches and button presses stand for.</summary>
public static class Answers
{
    /// <summary>
    /// An answer to the question that was shown when the finger went down. When that stage is over by now, the answer is dated to its
    /// beginning, so that the rules refuse and record it as late (I9, I17).
    /// </summary>
    public static Answer Make(Phrase phrase, By by, Press press, Question? open, Entry entry)
    {
        var current = QuestionKey.Of(open);
        var late = press.Shown != current && press.Shown.Sequence == current.Sequence;
        var numbered = TakesNumber(phrase) && entry.IsComplete;
        return new Answer
        {
            Question = press.Shown.Sequence,
            Began = late ? press.Began with { Boot = press.Shown.Since } : press.Began,
            By = by,
            Phrase = phrase,
            Held = press.Held,
            Number = !numbered ? null : phrase == Phrase.Sheet ? entry.Text.PadLeft(2, '0') : entry.Text,
            Below = numbered && entry.Below,
            Text = ButtonWords.Of(phrase),
        };
    }

    /// <summary>True for what is said of a person, by crew number.</summary>
    public static bool IsOfPerson(Phrase phrase) =>
        phrase is Phrase.PersonArrived or Phrase.PersonLeft or Phrase.PersonJoins or Phrase.PersonTakesOver;

    private static bool TakesNumber(Phrase phrase) => phrase is Phrase.Reading or Phrase.Fitted or Phrase.Sheet or Phrase.Temperature
        or Phrase.Removed or Phrase.Tools or Phrase.ByProcedure || IsOfPerson(phrase);
}
