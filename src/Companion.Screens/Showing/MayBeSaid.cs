using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.Speaking;

namespace Companion.Screens.Showing;

/// <summary>The words that may be said now.</summary>
public static class MayBeSaid
{
    /// <summary>What answers the question, the usual one first.</summary>
    public static ImmutableArray<string> Of(Question? question) => question is null
        ? []
        : [.. PhraseBook.Offered(question).Select(phrase => phrase == Phrase.AffirmCode && question is { Code: { } code, CodeIsOnlySpoken: false }
            ? $"affirm, {Wording.Digits(code)}"
            : PhraseBook.Words(phrase))];
}
