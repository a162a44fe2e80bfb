using System.Text.RegularExpressions;
using Companion.Domain.Speaking;

namespace Companion.Voice.Speaking;

/// <summary>
/// Spells words anew that both synthesisers say as another word: "live" as the verb, "reading" as "redding", 00:30 as "thirty". Only what is
/// sounded changes; the record and the screen keep the words. Found by reading the phonemes of every prompt.
/// </summary>
/// <param name="synthesiser">Who speaks.</param>
public sealed partial class RespellingSynthesiser(ISynthesiser synthesiser) : ISynthesiser
{
    private static readonly (Regex Word, string Sound)[] Words =
    [
        (Live(), "lyve"), (Reading(), "reeding$1"), (Read(), "reed"), (Chassis(), "shassy"), (Metres(), "meters"),
        (Close(), "cloze"), (Use(), "yuze"), (Lead(), "leed"),
    ];

    /// <summary>The text as it is given to the synthesiser.</summary>
    public static string Respell(string text) => Words.Aggregate(
        ClockTime().Replace(text, time => string.Join(' ', time.Value.Where(char.IsAsciiDigit).Select(digit => SpokenNumber.Say(digit.ToString())))),
        (said, word) => word.Word.Replace(said, word.Sound));

    /// <inheritdoc/>
    public short[] Speak(string text) => synthesiser.Speak(Respell(text));

    [GeneratedRegex(@"\b[0-2][0-9]:[0-5][0-9]\b")]
    private static partial Regex ClockTime();

    [GeneratedRegex(@"\blive\b", RegexOptions.IgnoreCase)]
    private static partial Regex Live();

    [GeneratedRegex(@"\breading(s?)\b", RegexOptions.IgnoreCase)]
    private static partial Regex Reading();

    [GeneratedRegex(@"(?<!\bwas )\bread\b", RegexOptions.IgnoreCase)]
    private static partial Regex Read();

    [GeneratedRegex(@"\bchassis\b", RegexOptions.IgnoreCase)]
    private static partial Regex Chassis();

    [GeneratedRegex(@"\bmetres\b", RegexOptions.IgnoreCase)]
    private static partial Regex Metres();

    [GeneratedRegex(@"\bclose\b", RegexOptions.IgnoreCase)]
    private static partial Regex Close();

    [GeneratedRegex(@"\buse\b(?= (before|the|it|another)\b)", RegexOptions.IgnoreCase)]
    private static partial Regex Use();

    [GeneratedRegex(@"\blead\b", RegexOptions.IgnoreCase)]
    private static partial Regex Lead();
}
