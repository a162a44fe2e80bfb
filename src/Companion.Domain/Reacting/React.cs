using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Speaking;
using Companion.Domain.Time;

namespace Companion.Domain.Reacting;

/// <summary>What is said once an entry is durable (I7). Computed from the job as the entry left it, so a replay says the same.</summary>
public static class React
{
    /// <summary>The effects of one recorded event.</summary>
    /// <param name="job">The job with the event.</param>
    /// <param name="happened">The event.</param>
    /// <param name="moment">When it was recorded.</param>
    public static IEnumerable<Effect> To(Job job, JobEvent happened, Moment moment)
    {
        var said = Words(job, happened, moment);
        var effects = said is { Text.Length: > 0 } ? [said, .. Whereabouts(job, happened)] : Enumerable.Empty<Effect>();
        return SoundWording.Of(job, happened) is { } announced ? [.. effects, announced] : effects;
    }

    /// <summary>What whoever calls must tell and dial. The place is personal data: the record of what was said does not hold it.</summary>
    private static IEnumerable<Say> Whereabouts(Job job, JobEvent happened) =>
        happened is AlertRaised { Kind: AlarmKind.Help } && SceneWording.Whereabouts(job) is { Length: > 0 } text
            ? [Told(text) with { Written = "The place and the emergency number." }]
            : [];

    private static Say? Words(Job job, JobEvent happened, Moment moment) => happened switch
    {
        QuestionAsked { Question: NeedKind.SoundCheck } => null,
        QuestionAsked { Question: NeedKind.AlarmHeard } => null,
        QuestionAsked => Step(job, Wording.Ask(job, job.Question!)),
        CodeAsked when job.Question?.Need.Kind == NeedKind.SoundCheck => Step(job, Wording.Ask(job, job.Question)),
        CodeAsked => Step(job, Wording.Echo(job, job.Question!)),
        AnswerEchoed when Expectations.Of(job.Question!.Need.Kind).Confirmation == Confirmation.SayAgain
            && job.Question.Echo is { Phrase: Phrase.Reading or Phrase.NothingShown } => Step(job, Wording.Echo(job, job.Question)),
        AnswerCorrected when job.Question?.Need != Needs.Of(job) => Step(job, "Discarded."),
        AnswerCorrected => Step(job, $"Discarded. {Wording.Ask(job, job.Question!)}"),
        StepRefused refused => new Say(Weight.Refusal, refused.Reason, 0),
        DeadRefused refused => new Say(Weight.Refusal, refused.Reason, 0),
        SpeechHeard { Phrase: Phrase.HowLong } => Told(Wording.HowLong(job, job.Clock.CountedAt(moment))),
        SpeechHeard { Phrase: Phrase.SayAgain } => Step(job, Repeat(job)),
        CheckInAsked or CheckInUnanswered or CheckInMade or CallTaken or NoSignalArranged => CheckInWording.Of(job, happened),
        AlertRaised raised => new Say(Weight.Alarm, $"{raised.Alert} Say affirm.", job.Question?.Sequence ?? 0),
        _ => Statement(job, happened),
    };

    private static Say? Statement(Job job, JobEvent happened) => happened switch
    {
        SceneAnswered answered => SceneWording.Advice(job.Scene, answered) is { } advice ? Told(advice) : null,
        TemperatureTaken => Told(HeatWording.Of(job)),
        SheetPinned pinned => Told(Wording.SheetPinned(pinned.Sheet)),
        PointOpened opened => Told($"Recorded: {NameOf(job, opened.Point)} open."),
        ReadingTaken { Purpose: ReadingPurpose.Watching, Volts: { } volts } taken => Watched(job, taken, volts),
        WaitStarted started => Told($"Wait started, {NameOf(job, started.Wait)}, {Wording.Duration(started.Seconds)}."),
        WaitCompleted completed => Told($"Wait over, {NameOf(job, completed.Wait)}, not yet tested."),
        DeadProved proved => Told(Wording.ProvedDead(job, proved.TestPlace)),
        WorkCleared => Told(Wording.ClearToWork(job)),
        WorkLapsed lapsed => new Say(Weight.Alarm, $"Hands off. Clear to work has lapsed: {lapsed.Reason}. Test again.", 0),
        ProofVoided voided => new Say(Weight.Refusal, $"Void: {voided.Reason}.", 0),
        JobClosed => Told("Recorded: job closed."),
        _ => SecuringWording.Recorded(job, happened) is { } said ? Told(said) : null,
    };

    /// <summary>Only a reading that was weighed and changes nothing is told of; one that takes away is followed by its warning.</summary>
    private static Say? Watched(Job job, ReadingTaken taken, Volts volts) =>
        !job.Doubt && job.Watched is [.., var last] && last.Sequence == job.Sequence && last.Place == taken.TestPlace
            && Watching.FindingOf(job)?.Verdict == DischargeVerdict.FallingAsExpected
            ? Told(DischargeWording.Falling(volts))
            : null;

    private static string Repeat(Job job) => job.Question switch
    {
        null => string.Empty,
        { Echo: null } question => Wording.Ask(job, question),
        var question => Wording.Echo(job, question),
    };

    private static Say Told(string text) => new(Weight.Step, text, 0);

    private static Say Step(Job job, string text) => new(Weight.Step, text, job.Question?.Sequence ?? 0);

    private static string NameOf(Job job, PointId id) => job.Sheet?.Points.FirstOrDefault(point => point.Id == id)?.Name ?? id.Value;

    private static string NameOf(Job job, WaitId id) => job.Sheet?.Waits.FirstOrDefault(wait => wait.Id == id)?.Name ?? id.Value;
}
