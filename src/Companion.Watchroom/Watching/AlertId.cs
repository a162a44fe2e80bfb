using System.Globalization;

namespace Companion.Watchroom.Watching;

/// <summary>
/// Ids of alerts: made of what they belong to and nothing else, so that the same alert, raised again after a crash, is the same alert.
/// An id does not tell a quiet call from a loud one. Pure; any thread.
/// </summary>
internal static class AlertId
{
    /// <summary>The check-in of that sequence was the last one in time.</summary>
    public static string Overdue(WatchId watch, long checkIn) => Of("overdue", watch, Number(checkIn));

    /// <summary>The tablet fell silent for the n-th time.</summary>
    public static string Silent(WatchId watch, long silence) => Of("silent", watch, Number(silence));

    /// <summary>A call of the tablet, "job/sequence".</summary>
    public static string Call(WatchId watch, string call) => Of("call", watch, call[(call.LastIndexOf('/') + 1)..]);

    private static string Of(string what, WatchId watch, string which) =>
        $"{(watch.Rehearsal ? "rehearsal:" : "")}{what}:{watch.Device}:{watch.Job}:{which}";

    private static string Number(long number) => number.ToString(CultureInfo.InvariantCulture);
}
