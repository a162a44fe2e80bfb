using Companion.Papers.Words;
using Companion.Review;

namespace Companion.Papers.Tests.Words;

/// <summary>The three papers of a record, made a minute after its last entry.</summary>
internal static class AllPapers
{
    public static IReadOnlyList<Paper> Of(RecordedJob record)
    {
        var made = record.Entries.IsEmpty ? DateTimeOffset.UnixEpoch : DemoRecords.SoonAfter(record);
        return [HandOverPaper.Of(record, made), JobReportPaper.Of(record, made), LabelPaper.Of(record, made)];
    }
}
