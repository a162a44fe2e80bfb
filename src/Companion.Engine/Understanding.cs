using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Speaking;
using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Engine;

/// <summary>From heard words to an answer: which phrase, which number.</summary>
public static class Understanding
{
    /// <summary>Speech must stand this many decibels over the noise to confirm what matters.</summary>
    public const int LeastSignalToNoise = 10;

    /// <summary>An answer that waited this long for the loop belongs to no question: every view has said meanwhile that none is taken (I18).</summary>
    public static readonly Ticks LongestWait = Ticks.OfSeconds(2);

    private static readonly HashSet<string> Framing =
        ["affirm", "code", "checked", "removed", "by", "procedure", "other", "ready", "left", "work", "take", "over", "sheet", "fitted", "lock", "below", "watching", "temperature", "degrees", "volts", "d", "c", "a", "millivolts", "kilovolts", "amps", "ohms"];

    /// <summary>The answer that a hearing stands for; null when its phrase is unknown.</summary>
    public static Answer? Of(Hearing hearing)
    {
        var form = PhraseBook.All.FirstOrDefault(candidate => candidate.Id == hearing.PhraseId);
        return form is null ? null : new Answer
        {
            Question = hearing.Question,
            Began = hearing.Onset,
            By = By.Voice,
            Phrase = form.Phrase,
            Number = NumberIn(form, hearing.Words),
            Below = form.Below,
            Kind = form.Kind,
            Confidence = hearing.Confidence,
            Text = hearing.Words,
        };
    }

    /// <summary>
    /// The outcome that counts: a code or a reading heard in more noise than <see cref="LeastSignalToNoise"/> confirms nothing, however
    /// sure the ear is. Of the phrases it accepted between 3 and 10 dB, 8 of 221 were wrong (measured, `companion bench voice`).
    /// </summary>
    public static HearingOutcome Weigh(Hearing hearing) =>
        hearing.Outcome == HearingOutcome.Accepted
        && hearing.SignalToNoise < LeastSignalToNoise
        && PhraseBook.All.FirstOrDefault(form => form.Id == hearing.PhraseId)?.Phrase is Phrase.AffirmCode or Phrase.Reading or Phrase.NothingShown
            ? HearingOutcome.TooNoisy
            : hearing.Outcome;

    /// <summary>True when the loop made no turn for so long that every view has covered itself.</summary>
    public static bool StoodStill(Moment lastTurn, Moment now) => lastTurn.BootId != now.BootId || now.Boot - lastTurn.Boot > LongestWait;

    /// <summary>
    /// The command as it may count now: an answer that waited too long, or that came while the loop stood still, counts for no question. A
    /// warning counts however late it comes.
    /// </summary>
    public static Command InTime(Command command, Moment arrived, Moment now, Moment turnsAgain) =>
        command is Answer answer && (StoodStill(arrived, now) || (arrived.BootId == turnsAgain.BootId && arrived.Boot < turnsAgain.Boot))
            ? answer with { Question = 0 }
            : command;

    /// <summary>Adds the sheet that an answer names, or that the echo it confirms had named.</summary>
    public static Answer WithSheet(Answer answer, Job? job, ISheetCatalogue sheets)
    {
        var number = answer.Phrase == Phrase.Sheet ? answer.Number : job?.Question?.Echo is { Phrase: Phrase.Sheet } echo ? echo.Number : null;
        return int.TryParse(number, out var chosen) && job?.Sheet is null ? answer with { Sheet = sheets.Find(chosen) } : answer;
    }

    /// <summary>The phrases to listen for, in the ear's form.</summary>
    public static ListeningFor Listening(Job? job)
    {
        var question = job is { Ended: false } ? job.Question : null;
        var checkIns = job is { Ended: false, CheckIn: not null } ? PhraseBook.CheckIns : [];
        var forms = PhraseBook.For(question).Concat(checkIns);
        return new ListeningFor(
            question?.Sequence ?? 0,
            [.. forms.Select(form => new PhrasePattern(form.Id, form.Pattern, LosingWords.IsLosing(form.Phrase)))]);
    }

    private static string? NumberIn(SpokenForm form, string words)
    {
        var number = string.Join(' ', words.Split(' ', StringSplitOptions.RemoveEmptyEntries).Where(word => !Framing.Contains(word)));
        return form.Pattern.Contains("{digits", StringComparison.Ordinal) ? SpokenNumber.Digits(number)
            : form.Pattern.Contains("{number", StringComparison.Ordinal) ? SpokenNumber.Parse(number)
            : null;
    }
}
