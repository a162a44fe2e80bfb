using System.Globalization;
using Companion.Contracts.Uplink;

namespace Companion.Watchroom.Watching;

/// <summary>What an alert says: what is known and what is not, in plain words. Pure; any thread.</summary>
internal static class AlertWords
{
    /// <summary>For a check-in that did not come.</summary>
    public static string Overdue(Watch watch, DateTimeOffset now) =>
        $"The last check-in was at {Clock(watch.CheckedInAt!.Value)}; the next was due at {Clock(watch.Due!.Value)} and did not come. "
        + $"The tablet was last heard {Span(now - watch.LastBeat)} ago. Call the technician; without an answer, send somebody.";

    /// <summary>For beats that did not come.</summary>
    public static string Silent(Watch watch) =>
        $"Nothing has been heard of the tablet since {Clock(watch.LastBeat)}. The person may be well: there may be no signal, or the tablet is "
        + $"flat or broken. {(watch.Due is { } due ? $"The next check-in is due at {Clock(due)}; it cannot arrive while the link is silent." : "No check-in is awaited.")} "
        + "Call the technician.";

    /// <summary>For a call of the tablet.</summary>
    public static string Of(Call call)
    {
        var ago = $"{Span(TimeSpan.FromMilliseconds(call.AgeMilliseconds))} before it was received";
        return call.Kind switch
        {
            CallKind.Help => $"The technician called for help, {ago}. Send help to the place named.",
            CallKind.Quiet => $"The quiet word was given, {ago}: the technician may be under threat. Do not ring the technician and do not ring the tablet. Send help.",
            CallKind.Unanswered => $"The tablet asked for a check-in and nobody answered, {ago}. Call the technician; without an answer, send somebody.",
            CallKind.Warning => $"A stop or a live warning was given at the vehicle and nobody answered it, {ago}. Call the technician; without an answer, send somebody.",
            _ => $"The tablet called, {ago}.",
        };
    }

    private static string Clock(DateTimeOffset time) => time.UtcDateTime.ToString("yyyy-MM-dd HH:mm:ss 'UTC'", CultureInfo.InvariantCulture);

    private static string Span(TimeSpan span) => span switch
    {
        { TotalSeconds: < 1 } => "less than a second",
        { TotalMinutes: < 2 } => $"{Whole(span.TotalSeconds)} s",
        { TotalHours: < 2 } => $"{Whole(span.TotalMinutes)} min",
        _ => $"{Whole(span.TotalHours)} h",
    };

    private static string Whole(double number) => Math.Floor(number).ToString(CultureInfo.InvariantCulture);
}
