using System.Globalization;
using Companion.Contracts.Uplink;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Telling;

/// <summary>
/// Where the tablet of an alert was found last. It is looked up when somebody is told, and lies in no alert and no chain: a place that is no longer shared,
/// or whose watch is over, is told to nobody. Pure.
/// </summary>
/// <param name="Latitude">Degrees north, WGS 84.</param>
/// <param name="Longitude">Degrees east, WGS 84.</param>
/// <param name="AccuracyMetres">Radius that holds it with about 95 %.</param>
/// <param name="Found">When it was found, by the watch room's clock.</param>
/// <param name="GeoLink">The same as a "geo:" link (RFC 5870).</param>
internal sealed record LastPosition(string Latitude, string Longitude, int AccuracyMetres, DateTimeOffset Found, string GeoLink)
{
    private static readonly TimeSpan OldAfter = TimeSpan.FromMilliseconds(Whereabouts.OldMilliseconds);

    /// <summary>The watch that an alert was raised over; null when it is over, or not shown yet.</summary>
    public static Watch? WatchOf(WatchView view, Alert alert) => view.Watches.FirstOrDefault(
        watch => watch.Device == alert.Device && watch.Job == alert.Job && watch.Last.Rehearsal == alert.Rehearsal);

    /// <summary>The position of somebody who is out; null when none is known, or what the tablet sent is none.</summary>
    public static LastPosition? Of(Watch? watch) => watch is { Last.Where: { } where } && LinkOf(where) is { } link
        ? new LastPosition(where.Latitude, where.Longitude, Math.Max(0, where.AccuracyMetres), watch.LastBeat.AddMilliseconds(-where.AgeMilliseconds), link)
        : null;

    /// <summary>A "geo:" link to a place that is one; null for anything else that a tablet may have sent.</summary>
    public static string? LinkOf(Whereabouts? where) =>
        where is not null && IsDegrees(where.Latitude, 90) && IsDegrees(where.Longitude, 180)
            ? string.Create(CultureInfo.InvariantCulture, $"geo:{where.Latitude},{where.Longitude};u={Math.Max(0, where.AccuracyMetres)}")
            : null;

    /// <summary>How long ago it was found; a clock that was set back makes no age below zero.</summary>
    public TimeSpan AgeAt(DateTimeOffset now) => now > Found ? now - Found : TimeSpan.Zero;

    /// <summary>True when whoever was there may have left since.</summary>
    public bool IsOldAt(DateTimeOffset now) => AgeAt(now) > OldAfter;

    private static bool IsDegrees(string text, int most) =>
        decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var degrees)
        && Math.Abs(degrees) <= most
        && text.All(letter => char.IsAsciiDigit(letter) || letter is '-' or '.');
}
