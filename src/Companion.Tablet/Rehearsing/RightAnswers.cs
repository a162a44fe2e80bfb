using System.Collections.Immutable;
using System.Globalization;
using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Isolation;
using Companion.Domain.Speaking;

namespace Companion.Tablet.Rehearsing;

/// <summary>The right answer to a question.</summary>
/// <param name="Phrase">What is meant.</param>
/// <param name="Number">The number in it.</param>
/// <param name="Below">True for "below N".</param>
/// <param name="Words">The words to say.</param>
public sealed record RightAnswer(Phrase Phrase, string? Number, bool Below, string Words)
{
    /// <summary>True when an echo is what was meant.</summary>
    public bool Matches(Echo echo) => echo.Phrase == Phrase && echo.Below == Below
        && (Number is null || Number == echo.Number || (Phrase == Phrase.Reading && Volts.TryParse(Number) == Volts.TryParse(echo.Number)));
}

/// <summary>What a technician answers who does everything as the sheet says.</summary>
public static class RightAnswers
{
    private const int ToolsTaken = 9;

    /// <summary>The right answer, with the figures that the tester shows.</summary>
    public static RightAnswer For(Job job, Question question, ImmutableDictionary<string, string> shown) => question.Need.Kind switch
    {
        NeedKind.ChooseSheet => Numbered(Phrase.Sheet, string.Empty, shown["sheet"].PadLeft(2, '0')),
        NeedKind.FitLock => Numbered(Phrase.Fitted, "fitted lock", LockNumber(job)),
        NeedKind.RemoveLock => Numbered(Phrase.Removed, "removed lock", LockRegister.Of(job, question.Need)!.Number),
        NeedKind.CountTools => Numbered(Phrase.Tools, "checked", (job.ToolsOut ?? ToolsTaken).ToString(CultureInfo.InvariantCulture)),
        NeedKind.ProveTester => Reading(shown["source"]),
        NeedKind.TakeReading => Reading(shown[TestItems.PairOf(job, question.Need).Id.Value]),
        NeedKind.SoundCheck => new RightAnswer(Phrase.AffirmCode, null, false, "affirm {code}"),
        _ => Plain(Expectations.Of(question.Need.Kind).Phrases[0]),
    };

    private static RightAnswer Plain(Phrase phrase) => new(phrase, null, false, PhraseBook.Words(phrase));

    private static RightAnswer Numbered(Phrase phrase, string words, string number) =>
        new(phrase, number, false, $"{words} {SpokenNumber.Say(number)}".Trim());

    private static RightAnswer Reading(string shown)
    {
        var below = shown.StartsWith("below ", StringComparison.Ordinal);
        var number = below ? shown["below ".Length..] : shown;
        return new RightAnswer(Phrase.Reading, number, below, $"{(below ? "below " : string.Empty)}{SpokenNumber.Say(number)} volts");
    }

    /// <summary>Locks are numbered 21, 22 and so on, one for each point.</summary>
    private static string LockNumber(Job job)
    {
        var used = job.Locks.Select(fitted => fitted.Number).ToHashSet();
        return Enumerable.Range(21, 70).Select(number => number.ToString(CultureInfo.InvariantCulture)).First(number => !used.Contains(number));
    }
}
