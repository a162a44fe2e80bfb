using Companion.Domain.Events;

namespace Companion.Review.Remarking;

/// <summary>Refusals, answers that were not accepted, corrections, and prompts that nobody can have heard whole.</summary>
internal static class AnswerRemarks
{
    public static IEnumerable<Remark> Of(RemarkBook book) =>
        Refusals(book).Concat(Unheard(book)).Concat(Corrections(book)).Concat(NotPlayed(book));

    private static IEnumerable<Remark> Refusals(RemarkBook book)
    {
        foreach (var step in book.Of<StepRefused>().GroupBy(refused => refused.Event.Step).Where(step => step.Count() >= RemarkLimits.ManyRefusals))
        {
            var reasons = step.GroupBy(refused => refused.Event.Reason).OrderByDescending(reason => reason.Count()).ThenBy(reason => reason.Key, StringComparer.Ordinal);
            yield return RemarkBook.About(
                RemarkKind.ManyRefusals,
                RemarkWeight.Word,
                step.Select(refused => refused.At),
                $"{(step.Key.Length == 0 ? "Answers to no step were" : $"The step {step.Key} was")} refused {RemarkBook.Times(step.Count())}, most often with: \"{reasons.First().Key}\" Remarked from {RemarkLimits.ManyRefusals} on.");
        }
    }

    private static IEnumerable<Remark> Unheard(RemarkBook book)
    {
        var heard = book.Of<SpeechHeard>().Where(speech => !speech.Event.Accepted).Select(speech => speech.At).ToList();
        if (heard.Count >= RemarkLimits.UnheardAnswers)
        {
            yield return RemarkBook.About(
                RemarkKind.UnheardAnswers,
                RemarkWeight.Word,
                heard,
                $"Speech was heard and not accepted {RemarkBook.Times(heard.Count)}. Noise, wind or the microphone may be the cause; remarked from {RemarkLimits.UnheardAnswers} on.");
        }
    }

    private static IEnumerable<Remark> Corrections(RemarkBook book)
    {
        var corrected = book.Of<AnswerCorrected>().Select(correction => correction.At).ToList();
        if (corrected.Count > 0)
        {
            yield return RemarkBook.About(
                RemarkKind.Corrections,
                corrected.Count >= RemarkLimits.ManyCorrections ? RemarkWeight.Word : RemarkWeight.Known,
                corrected,
                $"What the tablet had understood was corrected {RemarkBook.Times(corrected.Count)} when it was repeated.");
        }
    }

    private static IEnumerable<Remark> NotPlayed(RemarkBook book)
    {
        var failed = book.Of<PromptFailed>().ToList();
        if (failed.Count > 0)
        {
            yield return RemarkBook.About(
                RemarkKind.PromptsNotPlayed,
                RemarkWeight.Word,
                failed.Select(prompt => prompt.At),
                $"Prompts were not played to their end {RemarkBook.Times(failed.Count)}. The first: {failed[0].Event.Reason}");
        }
    }
}
