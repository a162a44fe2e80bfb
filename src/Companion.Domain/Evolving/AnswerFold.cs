using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.Domain.Evolving;

/// <summary>The part of the fold that concerns the open question and its stages.</summary>
internal static class AnswerFold
{
    public static Job Apply(Job job, JobEvent happened, long sequence, Moment moment) => happened switch
    {
        QuestionAsked asked => job with
        {
            Question = new Question(sequence, new Need(asked.Question, asked.Step), moment.BootId, moment.Boot),
        },
        AnswerEchoed echoed => OnQuestion(job, echoed.Question, question => question with
        {
            Echo = new Echo(echoed.Phrase, echoed.Number, echoed.Below, echoed.Kind, echoed.Digest, echoed.About),
            Code = null,
            BootId = moment.BootId,
            Since = moment.Boot,
        }),
        CodeAsked asked => OnQuestion(job, asked.Question, question => question with
        {
            Code = asked.Code,
            BootId = moment.BootId,
            Since = moment.Boot,
        }),
        CodeFailed failed => OnQuestion(job, failed.Question, question => question with { FailedCodes = question.FailedCodes + 1 }),
        CodeAccepted accepted => OnQuestion(job, accepted.Question, Reset),
        AnswerCorrected corrected => OnQuestion(Withdraw(job, corrected), corrected.Question, question => Reset(question) with
        {
            BootId = moment.BootId,
            Since = moment.Boot,
        }),
        _ => job,
    };

    /// <summary>"Wrong" to "why not?" or to the offer of another way: the step can be done after all.</summary>
    private static Job Withdraw(Job job, AnswerCorrected corrected) =>
        job.Question is { Echo: null, Need.Kind: NeedKind.InabilityReason or NeedKind.TakeWay } question && question.Sequence == corrected.Question
            ? job with { Inability = null }
            : job;

    private static Question Reset(Question question) => question with { Echo = null, Code = null, FailedCodes = 0 };

    private static Job OnQuestion(Job job, long sequence, Func<Question, Question> change) =>
        job.Question is { } question && question.Sequence == sequence ? job with { Question = change(question) } : job;
}
