using System.Globalization;
using Companion.Review.Lines;

namespace Companion.Pages.Record;

/// <summary>Times, letters and names of the timeline.</summary>
internal static class RecordWords
{
    private const long PerTenth = 100_000_000;

    /// <summary>"0:01:05.3" since the job's start.</summary>
    public static string Since(long nanoseconds)
    {
        var tenths = nanoseconds / PerTenth;
        return string.Create(CultureInfo.InvariantCulture, $"{tenths / 36000}:{tenths / 600 % 60:00}:{tenths / 10 % 60:00}.{tenths % 10}");
    }

    /// <summary>The letter that a mark bears; empty for a plain one.</summary>
    public static string Letter(MarkKind kind) => kind switch
    {
        MarkKind.Correction => "C",
        MarkKind.Refusal => "R",
        MarkKind.Trouble => "T",
        MarkKind.Void => "V",
        MarkKind.Live => "L",
        MarkKind.Alert => "A",
        _ => string.Empty,
    };

    public static string Name(MarkKind kind) => kind switch
    {
        MarkKind.Live => "Live",
        MarkKind.Plain => "As it should",
        _ => kind.ToString(),
    };

    public static string Name(Lane lane) => lane switch
    {
        Lane.Speech => "Heard, said",
        Lane.CheckIns => "Check-ins, alerts",
        Lane.Devices => "Devices, clocks",
        _ => lane.ToString(),
    };

    public static string Of(WaitEnd end) => end switch
    {
        WaitEnd.Completed => "over",
        WaitEnd.Voided => "VOID",
        WaitEnd.Running => "still running",
        _ => "started anew",
    };
}
