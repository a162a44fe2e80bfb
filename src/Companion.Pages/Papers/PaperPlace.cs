using System.Globalization;
using Companion.Papers.Words;
using Companion.Review;

namespace Companion.Pages.Papers;

/// <summary>Where a paper of a record is found, and what it is called in an address, on a key and in the journal.</summary>
public static class PaperPlace
{
    /// <summary>The papers in the order in which they are offered.</summary>
    public static readonly IReadOnlyList<PaperKind> All = [PaperKind.HandOver, PaperKind.JobReport, PaperKind.Label];

    /// <summary>Its name in an address, and in the entry that tells who looked.</summary>
    public static string NameOf(PaperKind kind) => kind switch
    {
        PaperKind.HandOver => "handover",
        PaperKind.JobReport => "report",
        _ => "label",
    };

    /// <summary>Its name on a key.</summary>
    public static string WordsOf(PaperKind kind) => kind switch
    {
        PaperKind.HandOver => "Hand-over sheet",
        PaperKind.JobReport => "Job report",
        _ => "Label",
    };

    /// <summary>The address of its page.</summary>
    /// <param name="record">The address of the record.</param>
    /// <param name="kind">Which paper.</param>
    public static string AddressOf(string record, PaperKind kind) => $"{record}/papers/{NameOf(kind)}";

    /// <summary>The address of its PDF.</summary>
    public static string PdfOf(string record, PaperKind kind) => $"{AddressOf(record, kind)}.pdf";

    /// <summary>The paper of a record as it ends now.</summary>
    public static Paper Draw(PaperKind kind, RecordedJob record, DateTimeOffset made) => kind switch
    {
        PaperKind.HandOver => HandOverPaper.Of(record, made),
        PaperKind.JobReport => JobReportPaper.Of(record, made),
        _ => LabelPaper.Of(record, made),
    };

    /// <summary>A time as papers write it, with the offset of the clock that it is of.</summary>
    internal static string Clock(DateTimeOffset at) => at.ToString("yyyy-MM-dd HH:mm 'UTC'zzz", CultureInfo.InvariantCulture);
}
