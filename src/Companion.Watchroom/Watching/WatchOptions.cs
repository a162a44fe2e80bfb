using Companion.Journal.Disk;

namespace Companion.Watchroom.Watching;

/// <summary>How the watch room watches.</summary>
/// <param name="Directory">Where the last beats and the mark of the last second that was watched are kept, beside the journal.</param>
public sealed record WatchOptions(string Directory)
{
    private const string BootIdFile = "/proc/sys/kernel/random/boot_id";

    /// <summary>From the last beat to a silent link; a tablet sends one every few seconds.</summary>
    public TimeSpan SilentAfter { get; init; } = TimeSpan.FromSeconds(60);

    /// <summary>What every deadline is given at least, after the watch room itself was down: nobody could check in meanwhile. Counted in time that is watched.</summary>
    public TimeSpan GraceAfterBlind { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>A longer time without watching is a blind period, shown and journalled.</summary>
    public TimeSpan BlindAfter { get; init; } = TimeSpan.FromSeconds(2);

    /// <summary>
    /// The program is running and yet took nothing up for longer than this, not even its own pulse: the machine slept, or its disk hung. That
    /// is a blind period too. Longer than <see cref="BlindAfter"/>, because a busy machine must not put off alerts.
    /// </summary>
    public TimeSpan StalledAfter { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>
    /// How long a tablet must go on saying that it is at no job, or at another, before the watch over the old one ends: a beat that was
    /// made while the tablet was starting ends nothing.
    /// </summary>
    public TimeSpan EndAfter { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>How often the deadlines are looked at.</summary>
    public TimeSpan PulseEvery { get; init; } = TimeSpan.FromMilliseconds(100);

    /// <summary>How often a second without any beat is marked as watched.</summary>
    public TimeSpan MarkEvery { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>After how many entries a new <see cref="WatchSnapshot"/> is written. A shorter chain is read faster than it could help.</summary>
    public int SnapshotEvery { get; init; } = 1000;

    /// <summary>The running period of the machine's operating system; times since its start compare only within one.</summary>
    public string BootId { get; init; } = File.Exists(BootIdFile) ? File.ReadAllText(BootIdFile).Trim() : "unknown";

    /// <summary>The file system of <see cref="Directory"/>.</summary>
    public IDisk Disk { get; init; } = new LocalDisk();
}
