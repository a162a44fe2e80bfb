using Companion.Review;

namespace Companion.Papers.Words;

/// <summary>The report of a job, for whoever was not there: what was done, measured, waited for and refused. Pure.</summary>
public static class JobReportPaper
{
    /// <summary>The report of a record up to its end. Total.</summary>
    /// <param name="record">The record, with or without its personal texts.</param>
    /// <param name="made">When the paper is made.</param>
    public static Paper Of(RecordedJob record, DateTimeOffset made)
    {
        var end = RecordEnd.Of(record);
        return PaperFrame.Of(PaperKind.JobReport, "Job report", end, made,
        [
            .. TroubleSection.Of(end),
            AttendanceSection.Of(end),
            HazardSections.StaysLive(end),
            PointSection.Of(end),
            WaitSection.Of(end),
            TestSection.Of(end),
            EquipmentSection.Of(end),
            HazardSections.MovingIt(end),
            HazardSections.Remains(end),
            CourseSection.AgainstIt(end),
            CourseSection.Of(end),
        ]);
    }
}
