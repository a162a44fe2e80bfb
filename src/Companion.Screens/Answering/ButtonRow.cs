using Companion.Domain.Asking;
using Companion.Domain.Isolation;
using Companion.Domain.Speaking;

namespace Companion.Screens.Answering;

/// <summary>The three big buttons for a job: the usual answer, the other answer, and stop, which is always there.</summary>
/// <param name="Primary">The usual answer.</param>
/// <param name="Second">The other answer.</param>
/// <param name="Third">Stop.</param>
public sealed record ButtonRow(ScreenButton Primary, ScreenButton Second, ScreenButton Third)
{
    /// <summary>Stop acts the moment it is touched.</summary>
    public static readonly ScreenButton Stop = new(Phrase.Stop, ButtonWords.Of(Phrase.Stop), "Acts at once", false, true);

    /// <summary>The buttons for what is open now.</summary>
    public static ButtonRow Of(Job job, Entry entry) => job.Question is { } question
        ? new ButtonRow(PrimaryOf(job, question, entry), SecondOf(job, question, entry), Stop)
        : new ButtonRow(ScreenButton.Nothing("Nothing to answer", string.Empty), ScreenButton.Tap(Phrase.SayAgain), Stop);

    /// <summary>Only warnings: what is left while nothing is recorded.</summary>
    public static readonly ButtonRow WarningsOnly = new(
        ScreenButton.Nothing("Nothing is accepted", "Not recording"), ScreenButton.Tap(Phrase.HelpMe), Stop);

    private static ScreenButton PrimaryOf(Job job, Question question, Entry entry)
    {
        if (question.Echo is not null || question.Code is not null)
        {
            return ScreenButton.Held(Phrase.Affirm);
        }

        var expected = Expectations.Of(question.Need.Kind);
        if (question.Need.Kind == NeedKind.WaitOver)
        {
            return ScreenButton.Tap(Phrase.HowLong);
        }

        if (question.Need.Kind == NeedKind.InabilityReason)
        {
            return ScreenButton.Nothing("Say why", "Choose a reason on the right");
        }

        if (question.Need.Kind == NeedKind.StandOff)
        {
            return entry.IsComplete ? ScreenButton.Tap(Phrase.Temperature) : ScreenButton.Held(Phrase.HandOver);
        }

        var phrase = expected.Phrases.IsEmpty ? Phrase.SayAgain : expected.Phrases[0];
        if (NumberNeed.Of(job) is { } need && !entry.IsComplete)
        {
            return ScreenButton.Nothing(ButtonWords.Of(phrase), need.Kind == NumberKind.Sheet ? "Choose a sheet first" : "Type the number first");
        }

        return expected.Confirmation == Confirmation.None ? ScreenButton.Tap(phrase) : ScreenButton.Held(phrase);
    }

    private static ScreenButton SecondOf(Job job, Question question, Entry entry)
    {
        return question.Need.Kind switch
        {
            NeedKind.TakeWay when question.Echo is null => ScreenButton.Tap(Phrase.CannotDo),
            _ when PhraseBook.Offered(question).Contains(Phrase.Wrong) => ScreenButton.Tap(Phrase.Wrong),
            NeedKind.RemoveLock when entry.IsComplete && LockRegister.Of(job, question.Need)?.Holder != job.Technician => ScreenButton.Held(Phrase.ByProcedure),
            NeedKind.SceneQuestion => ScreenButton.Tap(Phrase.Yes),
            NeedKind.AlarmHeard => ScreenButton.Tap(Phrase.HelpMe),
            NeedKind.GoOn => ScreenButton.Held(Phrase.HandOver),
            NeedKind.Working => ScreenButton.Held(Phrase.WorkDone),
            NeedKind.SoundCheck or NeedKind.WaitOver or NeedKind.HandOver or NeedKind.StandOff or NeedKind.PutBack
                or NeedKind.CountTools => ScreenButton.Tap(Phrase.SayAgain),
            _ => ScreenButton.Tap(Phrase.CannotDo),
        };
    }
}
