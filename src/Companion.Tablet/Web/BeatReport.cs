using Companion.Engine;

namespace Companion.Tablet.Web;

/// <summary>What the beat endpoint tells the watchdog and the page: when the loop last turned, and whether it records.</summary>
/// <param name="BootId">The running period of the operating system.</param>
/// <param name="Boot">CLOCK_BOOTTIME of the loop's last turn, nanoseconds as text.</param>
/// <param name="Recording">False when the store failed.</param>
/// <param name="Process">The process that answered.</param>
public sealed record BeatReport(string BootId, string Boot, bool Recording, int Process)
{
    /// <summary>The report of a state.</summary>
    public static BeatReport Of(Snapshot snapshot) => new(
        snapshot.Moment.BootId,
        snapshot.Moment.Boot.Nanoseconds.ToString(System.Globalization.CultureInfo.InvariantCulture),
        snapshot.Recording,
        Environment.ProcessId);
}
