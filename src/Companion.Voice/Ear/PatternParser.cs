using System.Text.RegularExpressions;

namespace Companion.Voice.Ear;

/// <summary>
/// Reads phrase patterns: words, <c>[optional]</c>, <c>(this|that)</c>, <c>{digits:MIN-MAX}</c>, <c>{number}</c>. Static and pure.
/// </summary>
public static partial class PatternParser
{
    /// <summary>Longest pattern, in characters.</summary>
    public const int MaximumLength = 400;

    /// <summary>The pattern as a tree.</summary>
    /// <exception cref="PatternException">Bad syntax; the message shows the pattern and says what is wrong.</exception>
    public static PatternNode Parse(string pattern)
    {
        ArgumentNullException.ThrowIfNull(pattern);
        if (pattern.Length > MaximumLength)
        {
            throw new PatternException($"Pattern \"{pattern[..40]}...\" is longer than {MaximumLength} characters.");
        }

        var tokens = new Queue<string>(Token().Matches(pattern).Select(match => match.Value));
        if (tokens.Sum(token => token.Length) != pattern.Count(character => character != ' '))
        {
            throw new PatternException($"Pattern \"{pattern}\": words are lower case letters, \"-\" and \"'\"; only [ ] ( | ) and slots beside.");
        }

        var node = Choice(tokens, pattern);
        return tokens.Count == 0 ? node : throw new PatternException($"Pattern \"{pattern}\": \"{tokens.Peek()}\" has no partner.");
    }

    private static PatternNode Choice(Queue<string> tokens, string pattern)
    {
        List<PatternNode> parts = [Sequence(tokens, pattern)];
        while (tokens.TryPeek(out var token) && token == "|")
        {
            tokens.Dequeue();
            parts.Add(Sequence(tokens, pattern));
        }

        return parts.Count == 1 ? parts[0] : new PatternNode.Choice(parts);
    }

    private static PatternNode Sequence(Queue<string> tokens, string pattern)
    {
        List<PatternNode> parts = [];
        while (tokens.TryPeek(out var token) && token is not ("|" or ")" or "]"))
        {
            tokens.Dequeue();
            parts.Add(token switch
            {
                "(" => Closed(tokens, ")", pattern),
                "[" => new PatternNode.Optional(Closed(tokens, "]", pattern)),
                _ when token.StartsWith('{') => Slot(token, pattern),
                _ => new PatternNode.Word(token),
            });
        }

        return parts.Count switch
        {
            0 => throw new PatternException($"Pattern \"{pattern}\" has an empty part."),
            1 => parts[0],
            _ => new PatternNode.Sequence(parts),
        };
    }

    private static PatternNode Closed(Queue<string> tokens, string closing, string pattern)
    {
        var inner = Choice(tokens, pattern);
        return tokens.TryDequeue(out var token) && token == closing
            ? inner
            : throw new PatternException($"Pattern \"{pattern}\": \"{closing}\" is missing.");
    }

    private static PatternNode Slot(string token, string pattern)
    {
        if (token == "{number}")
        {
            return SlotGrammar.Number();
        }

        var match = DigitSlot().Match(token);
        if (match.Success)
        {
            int least = int.Parse(match.Groups[1].ValueSpan), most = int.Parse(match.Groups[2].ValueSpan);
            if (least >= 1 && least <= most && most <= SlotGrammar.MaximumDigits)
            {
                return SlotGrammar.Digits(least, most);
            }
        }

        throw new PatternException(
            $"Pattern \"{pattern}\": slot {token} is unknown; there are {{number}} and {{digits:MIN-MAX}} with 1 to {SlotGrammar.MaximumDigits} digits.");
    }

    [GeneratedRegex(@"[a-z][a-z'\-]*|[\[\]()|]|\{[^}]*\}")]
    private static partial Regex Token();

    [GeneratedRegex(@"^\{digits:(\d)-(\d)\}$")]
    private static partial Regex DigitSlot();
}
