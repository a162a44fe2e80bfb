namespace Companion.Voice.Ear;

/// <summary>What may be said in a slot of a pattern. The words are those that <c>SpokenNumber</c> understands.</summary>
public static class SlotGrammar
{
    /// <summary>Most digits a slot may ask for.</summary>
    public const int MaximumDigits = 8;

    private static readonly PatternNode Digit = new PatternNode.Choice(
        [.. "zero oh one two three four five six seven eight nine niner".Split(' ').Select(word => new PatternNode.Word(word))]);

    // Codes and readings above nine are said with a first digit that is not "oh" only by habit, so any digit may lead.
    private static readonly PatternNode DigitRun = new PatternNode.Repeated(Digit);

    /// <summary>Between so many and so many digits, one by one.</summary>
    public static PatternNode Digits(int least, int most)
    {
        PatternNode? tail = null;
        for (var n = most; n > least; n--)
        {
            tail = new PatternNode.Optional(tail is null ? Digit : new PatternNode.Sequence([Digit, tail]));
        }

        var parts = Enumerable.Repeat(Digit, least).ToList();
        if (tail is not null)
        {
            parts.Add(tail);
        }

        return new PatternNode.Sequence(parts);
    }

    /// <summary>
    /// Digits with an optional decimal part, or whole hundreds and thousands (ICAO Annex 10 vol. II 5.2.1.4): "four zero zero",
    /// "zero decimal five", "four hundred", "two thousand five hundred".
    /// </summary>
    public static PatternNode Number()
    {
        var hundred = new PatternNode.Sequence([Digit, new PatternNode.Word("hundred")]);
        var thousand = new PatternNode.Sequence([DigitRun, new PatternNode.Word("thousand"), new PatternNode.Optional(hundred)]);
        var point = new PatternNode.Choice([new PatternNode.Word("decimal"), new PatternNode.Word("point")]);
        var plain = new PatternNode.Sequence([DigitRun, new PatternNode.Optional(new PatternNode.Sequence([point, DigitRun]))]);
        return new PatternNode.Choice([plain, hundred, thousand]);
    }
}
