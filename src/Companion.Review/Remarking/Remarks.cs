using System.Collections.Immutable;

namespace Companion.Review.Remarking;

/// <summary>
/// What is worth talking about in a record, computed from it alone: the same record gives the same remarks for ever. Pure and total: a damaged
/// record gives fewer remarks, never a fault.
/// </summary>
public static class Remarks
{
    /// <summary>The remarks, in the order of the record.</summary>
    public static ImmutableArray<Remark> Of(RecordedJob job)
    {
        var book = new RemarkBook(job);
        return
        [
            .. WaitRemarks.Of(book)
                .Concat(AnswerRemarks.Of(book))
                .Concat(SilenceRemarks.Of(book))
                .Concat(FitnessRemarks.Of(book))
                .Concat(TroubleRemarks.Of(book))
                .Concat(CourseRemarks.Of(book))
                .OrderBy(remark => remark.Sequences[0])
                .ThenBy(remark => remark.Kind),
        ];
    }
}
