using System.Globalization;
using Companion.Watchroom.Access;
using Companion.Watchroom.Telling;

namespace Companion.Watchroom.Web;

/// <summary>Times and states in the board's words. The page's script counts ages on in the same words.</summary>
internal static class Wording
{
    /// <summary>"09:15:00 UTC".</summary>
    public static string Clock(DateTimeOffset time) => time.UtcDateTime.ToString("HH:mm:ss 'UTC'", CultureInfo.InvariantCulture);

    /// <summary>"26 Nov, 09:15:00 UTC".</summary>
    public static string Day(DateTimeOffset time) => time.UtcDateTime.ToString("d MMM, HH:mm:ss 'UTC'", CultureInfo.InvariantCulture);

    /// <summary>"1 min 5 s".</summary>
    public static string Span(TimeSpan span)
    {
        var seconds = (long)Math.Abs(span.TotalSeconds);
        return seconds switch
        {
            < 60 => $"{seconds} s",
            < 3600 => $"{seconds / 60} min {seconds % 60} s",
            _ => $"{seconds / 3600} h {seconds % 3600 / 60} min",
        };
    }

    /// <summary>For the page's script.</summary>
    public static string Stamp(DateTimeOffset time) => time.ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture);

    /// <summary>The role's name.</summary>
    public static string Of(Role role) => role switch
    {
        Role.Technician => "technician",
        Role.TeamLead => "team lead",
        _ => "administrator",
    };

    /// <summary>How a target is told.</summary>
    public static string Of(RingChannel channel) => channel switch
    {
        RingChannel.Email => "by e-mail",
        RingChannel.Webhook => "by webhook",
        _ => "by siren",
    };

    /// <summary>Where a telling stands; nobody is told any more of an alert that was taken.</summary>
    public static string Of(TellingState state, bool taken) => state.Step switch
    {
        TellingStep.Waiting or TellingStep.Failed when taken => "not told: the alert was taken first",
        TellingStep.Waiting => $"told from {Clock(state.At!.Value)} on",
        TellingStep.Trying => state.Attempts == 1 ? "being told" : $"being told, attempt {state.Attempts}",
        TellingStep.Sent => $"told at {Clock(state.At!.Value)}",
        _ => $"not told after {state.Attempts} {(state.Attempts == 1 ? "attempt" : "attempts")}, again at {Clock(state.At!.Value)}: {state.Reason}",
    };
}
