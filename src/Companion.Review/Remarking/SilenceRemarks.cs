using Companion.Domain.CheckIn;
using Companion.Domain.Events;

namespace Companion.Review.Remarking;

/// <summary>Long times without a word from the person while live parts were within reach, or during the work.</summary>
internal static class SilenceRemarks
{
    public static IEnumerable<Remark> Of(RemarkBook book)
    {
        (RecordedEntry At, WorkPhase Phase)? quietSince = null;
        foreach (var (at, phase) in PhaseTrack.Of(book))
        {
            var isWatched = phase is WorkPhase.Exposed or WorkPhase.Working;
            if (quietSince is { } since && (IsWord(at.Happened) || phase != since.Phase))
            {
                if (Remarked(since.At, at, since.Phase) is { } remark)
                {
                    yield return remark;
                }

                quietSince = null;
            }

            if (isWatched && quietSince is null)
            {
                quietSince = (at, phase);
            }
        }

        if (quietSince is { } last && Remarked(last.At, book.Entries[^1], last.Phase) is { } open)
        {
            yield return open;
        }
    }

    private static Remark? Remarked(RecordedEntry from, RecordedEntry to, WorkPhase phase) =>
        RemarkBook.SecondsBetween(from, to) < RemarkLimits.SilenceSeconds
            ? null
            : RemarkBook.About(
                RemarkKind.LongSilence,
                RemarkWeight.Word,
                [from, to],
                $"For {RemarkBook.Length(RemarkBook.SecondsBetween(from, to))} nothing was heard from the person {(phase == WorkPhase.Exposed ? "while live parts may have been within reach" : "during the work")}. Remarked from {RemarkBook.Length(RemarkLimits.SilenceSeconds)} on.");

    /// <summary>True for what only a person brings about: said, touched, answered or measured.</summary>
    private static bool IsWord(JobEvent? happened) => happened is SpeechHeard or AnswerEchoed or AnswerCorrected or CodeAccepted or CodeFailed
        or StepConfirmed or StepRefused or StepUnable or CheckInMade or AlertTaken or PersonChanged or DisturbanceReported or ReadingTaken
        or TesterProved or ToolsCounted or SceneAnswered or TemperatureTaken or NoSignalArranged or PhaseEntered or JobClosed or JobHandedOver;
}
