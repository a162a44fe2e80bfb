using Companion.Domain.Asking;
using Companion.Domain.Speaking;

namespace Companion.Screens.Answering;

/// <summary>The words on buttons: those that are also said.</summary>
public static class ButtonWords
{
    /// <summary>The words of a phrase as a label.</summary>
    public static string Of(Phrase phrase)
    {
        var words = phrase switch
        {
            Phrase.Fitted => "fitted",
            Phrase.Sheet => "this sheet",
            Phrase.Reading => "it reads this",
            Phrase.Temperature => "temperature",
            Phrase.Removed => "removed",
            Phrase.Tools => "tools counted",
            Phrase.ByProcedure => "by procedure",
            Phrase.PersonArrived => "arrived, watches",
            Phrase.PersonJoins => "joins the work",
            Phrase.PersonTakesOver => "takes over",
            Phrase.AllRight => "all right",
            Phrase.PersonLeft => "left",
            _ => PhraseBook.Words(phrase),
        };
        return char.ToUpperInvariant(words[0]) + words[1..];
    }
}
