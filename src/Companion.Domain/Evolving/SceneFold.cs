using Companion.Domain.Arrival;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.Domain.Evolving;

/// <summary>The part of the fold that concerns the arrival, the stand-off and its heat watch.</summary>
internal static class SceneFold
{
    public static Job Apply(Job job, JobEvent happened, long sequence, Moment moment) => happened switch
    {
        SceneAnswered answered when job.Scene is { } scene =>
            job with { Scene = scene with { Answers = scene.Answers.SetItem(answered.Item, answered.Answer) } },
        StepConfirmed { Question: NeedKind.SceneReadBack } when job.Scene is { } scene => job with { Scene = scene with { Confirmed = true } },

        // "Wrong" to the read-back: the list is gone through again.
        AnswerCorrected corrected when job is { Scene: { } scene, Question: { Echo: null, Need.Kind: NeedKind.SceneReadBack } question }
            && question.Sequence == corrected.Question => job with { Scene = new Scene(scene.List) },
        StandOffBegun begun => job with { StandOff = new StandOff(sequence, begun.Reason, begun.Centimetres) },
        TemperatureTaken taken when job.StandOff is { } off =>
            job with { StandOff = off with { Heat = off.Heat.Add(new HeatReading(taken.Tenths, moment.BootId, moment.Boot)) } },
        _ => job,
    };
}
