using Companion.Domain.Deciding;
using Companion.Domain.Asking;
using Companion.Domain.Speaking;
using Companion.Engine.Ports;

namespace Companion.Simulation.Worlds;

/// <summary>
/// Turns an answer into what the ear would bring: the words of a phrase that is listened for now, now and then unsure, in noise, twice,
/// or another phrase altogether.
/// </summary>
internal sealed class Mishearing(Tablet tablet)
{
    /// <summary>Chance of the present step.</summary>
    public Random Chance { get; set; } = new(0);

    /// <summary>True when the last answer came through as it was meant.</summary>
    public bool LastWasPlain { get; private set; } = true;

    /// <summary>The hearing; null when the answer cannot be said in words that are listened for.</summary>
    public Hearing? Hear(Answer answer)
    {
        LastWasPlain = true;
        if (answer.Tester is not null || FormOf(answer) is not { } form || Words(form, answer.Number) is not { } words)
        {
            return null;
        }

        var hearing = new Hearing(answer.Question, answer.Began, tablet.Clock.Now(), HearingOutcome.Accepted, form.Id, words, 900, 25);
        LastWasPlain = false;
        switch (Chance.Next(40))
        {
            case 0:
                return hearing with { Outcome = HearingOutcome.Unsure, Confidence = 300 };
            case 1:
                return hearing with { Outcome = HearingOutcome.NotForUs, PhraseId = null, Words = string.Empty };
            case 2:
                return hearing with { SignalToNoise = 3 };
            case 3:
                return hearing with { Outcome = HearingOutcome.TooNoisy };
            case 4:
                var phrases = tablet.Ear.Now!.Phrases;
                var heard = phrases[Chance.Next(phrases.Count)].Id;
                var other = PhraseBook.All.First(one => one.Id == heard);
                return hearing with { PhraseId = other.Id, Words = Words(other, Chance.Next(100).ToString("00", null)) ?? words };
            case 5:
                tablet.Engine!.Post(hearing);
                LastWasPlain = true;
                return hearing;
            default:
                LastWasPlain = true;
                return hearing;
        }
    }

    private SpokenForm? FormOf(Answer answer) => PhraseBook.All.FirstOrDefault(form =>
        form.Phrase == answer.Phrase && form.Below == answer.Below && form.Kind == answer.Kind
        && form.Pattern.Contains('{', StringComparison.Ordinal) == answer.Number is not null && tablet.Ear.MayHear(form.Id));

    private static string? Words(SpokenForm form, string? number)
    {
        var slot = form.Pattern.IndexOf('{', StringComparison.Ordinal);
        if (slot < 0)
        {
            return form.Pattern;
        }

        if (number is null || SpokenNumber.TrySay(number) is not { } said)
        {
            return null;
        }

        var before = form.Pattern[..slot].Replace("[minus] ", string.Empty, StringComparison.Ordinal);
        var after = form.Pattern[(form.Pattern.IndexOf('}', StringComparison.Ordinal) + 1)..];
        return Plain($"{before}{said}{after}");
    }

    /// <summary>The words of a pattern with everything optional said, and the first of each choice.</summary>
    private static string Plain(string pattern) => string.Concat(pattern.Split('(').Select((part, at) =>
        at == 0 ? part : part[..part.IndexOf('|', StringComparison.Ordinal)] + part[(part.IndexOf(')', StringComparison.Ordinal) + 1)..]))
        .Replace("[", string.Empty, StringComparison.Ordinal).Replace("]", string.Empty, StringComparison.Ordinal);
}
