using System.Globalization;
using Companion.Contracts.Uplink;

namespace Companion.Tablet.Linking;

/// <summary>
/// Where the tablet is, as its browser last found it. Personal data: it lies in memory alone, and nothing here writes it down. Any thread.
/// </summary>
/// <param name="time">Measures the age of what was found.</param>
public sealed class TabletPosition(TimeProvider time)
{
    /// <summary>A radius beyond this tells nobody where to look, in metres.</summary>
    public const double MostMetres = 100_000;

    /// <summary>What is older is forgotten.</summary>
    public static readonly TimeSpan Oldest = TimeSpan.FromHours(24);

    private Finding? _latest;

    /// <summary>The last finding with its present age; null when there is none.</summary>
    public Whereabouts? Latest => Volatile.Read(ref _latest) is { } found && AgeOf(found) is var age && age <= Oldest
        ? new Whereabouts(Degrees(found.Latitude), Degrees(found.Longitude), (int)Math.Ceiling(found.Metres), (long)age.TotalMilliseconds)
        : null;

    /// <summary>Takes a finding; false when it is none, and nothing changes.</summary>
    /// <param name="latitude">Degrees north, WGS 84.</param>
    /// <param name="longitude">Degrees east, WGS 84.</param>
    /// <param name="metres">The radius that holds the tablet with about 95 %.</param>
    /// <param name="ageMilliseconds">How old it is.</param>
    public bool Take(double latitude, double longitude, double metres, double ageMilliseconds)
    {
        if (!IsWithin(latitude, -90, 90) || !IsWithin(longitude, -180, 180) || !IsWithin(metres, 0, MostMetres)
            || !IsWithin(ageMilliseconds, 0, Oldest.TotalMilliseconds))
        {
            return false;
        }

        Volatile.Write(ref _latest, new Finding(latitude, longitude, metres, TimeSpan.FromMilliseconds(ageMilliseconds), time.GetTimestamp()));
        return true;
    }

    /// <summary>It is no longer shared.</summary>
    public void Forget() => Volatile.Write(ref _latest, null);

    /// <summary>False for what is no number, too.</summary>
    private static bool IsWithin(double value, double least, double most) => value >= least && value <= most;

    /// <summary>To a metre or so: five decimals.</summary>
    private static string Degrees(double value) => value.ToString("0.00000", CultureInfo.InvariantCulture);

    private TimeSpan AgeOf(Finding found) => time.GetElapsedTime(found.Received) + found.AgeThen;

    private sealed record Finding(double Latitude, double Longitude, double Metres, TimeSpan AgeThen, long Received);
}
