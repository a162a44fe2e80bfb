using Companion.Review;

namespace Companion.Papers.Words;

/// <summary>The sheet for whoever takes the vehicle over: one look tells what can hurt, the rest who did what. Pure.</summary>
public static class HandOverPaper
{
    /// <summary>The sheet of a record as it ends. Total: of a damaged record it says less, and that it does.</summary>
    /// <param name="record">The record, with or without its personal texts.</param>
    /// <param name="made">When the paper is made: clear to work whose re-test was due by then is not told as such.</param>
    public static Paper Of(RecordedJob record, DateTimeOffset made)
    {
        var end = RecordEnd.Of(record);
        return PaperFrame.Of(PaperKind.HandOver, "Hand-over sheet", end, made,
        [
            .. TroubleSection.Of(end),
            HazardSections.StaysLive(end),
            HazardSections.MovingIt(end),
            AttendanceSection.Of(end),
            PointSection.Of(end),
            TestSection.Of(end),
            HazardSections.Remains(end),
        ]);
    }
}
