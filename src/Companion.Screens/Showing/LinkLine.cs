using System.Collections.Immutable;
using System.Globalization;
using Companion.Contracts;
using Companion.Contracts.Uplink;

namespace Companion.Screens.Showing;

/// <summary>A line about the link to the watch room. That something waits is no trouble: nothing is lost by waiting.</summary>
/// <param name="Text">What is the matter, and what to do.</param>
/// <param name="ToDo">True when somebody must do something.</param>
public sealed record LinkLine(string Text, bool ToDo)
{
    /// <summary>All lines, those that ask for something first; none without a watch room.</summary>
    /// <param name="standing">How the link stands; null without a watch room.</param>
    /// <param name="now">The present time on the tablet.</param>
    public static ImmutableArray<LinkLine> Of(LinkStanding? standing, DateTimeOffset now) => standing is null
        ? []
        : [.. standing.Refused.Select(OfRefused), OfWaiting(standing, now), .. OfPosition(standing)];

    private static LinkLine OfRefused(RefusedRecord refused)
    {
        var what = refused.Chain == Chains.Tablet ? "the tablet's own record" : $"the record of {refused.Chain}";
        return new($"The watch room does not take {what}: {refused.Reason} Call the team lead. Everything is kept here, and tried again every ten minutes.", true);
    }

    private static LinkLine OfWaiting(LinkStanding standing, DateTimeOffset now)
    {
        if (standing.Waiting == 0)
        {
            return new("The watch room holds every entry.", false);
        }

        var (entries, wait) = standing.Waiting == 1 ? ("1 entry", "waits") : (string.Create(CultureInfo.InvariantCulture, $"{standing.Waiting} entries"), "wait");
        var since = standing.Since is { } oldest ? $", the oldest since {Clock(oldest, now)}" : string.Empty;
        // What was refused has its own line; the rest goes by itself.
        var trouble = standing.Refused.IsEmpty && standing.Trouble is { } words ? $" {words}" : string.Empty;
        return new($"{entries}, {Size(standing.Bytes)}, {wait} to be sent{since}.{trouble}", false);
    }

    private static IEnumerable<LinkLine> OfPosition(LinkStanding standing)
    {
        if (standing is { SharesPosition: true, Where: null })
        {
            yield return new("The watch room does not see where the tablet is.", false);
        }
        else if (standing is { SharesPosition: true, Where: { } where })
        {
            var minutes = where.AgeMilliseconds / 60_000;
            var found = minutes == 0 ? "found just now" : string.Create(CultureInfo.InvariantCulture, $"found {minutes} min ago");
            var old = where.AgeMilliseconds > Whereabouts.OldMilliseconds ? ", which is old" : string.Empty;
            yield return new($"Shared: in a job the watch room sees where the tablet is, within {where.AccuracyMetres} m, {found}{old}.", false);
        }
    }

    private static string Clock(DateTimeOffset time, DateTimeOffset now) =>
        time.ToString(time.Date == now.Date ? "HH:mm" : "d MMM, HH:mm", CultureInfo.InvariantCulture);

    private static string Size(long bytes) => bytes switch
    {
        < 1_000 => "under 1 kB",
        < 999_500 => string.Create(CultureInfo.InvariantCulture, $"about {bytes / 1e3:0} kB"),
        _ => string.Create(CultureInfo.InvariantCulture, $"about {bytes / 1e6:0.0} MB"),
    };
}
