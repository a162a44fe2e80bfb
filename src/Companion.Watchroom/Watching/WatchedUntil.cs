namespace Companion.Watchroom.Watching;

/// <summary>A moment at which the watch room certainly watched, by both clocks of its machine.</summary>
/// <param name="At">By the watch room's clock.</param>
/// <param name="BootId">The running period of the machine; null when it was not noted.</param>
/// <param name="Uptime">Nanoseconds since that period began, sleep included.</param>
internal sealed record WatchedUntil(DateTimeOffset At, string? BootId, long Uptime)
{
    private const long NanosecondsATick = 100;

    /// <summary>
    /// True when the machine ran on and its wall clock was set back since: then less time seems to have passed than did, and a deadline that is computed
    /// from what it says would come late (I10). After the machine was started anew nobody can know.
    /// </summary>
    /// <param name="now">The present moment.</param>
    /// <param name="noise">A difference that does not count.</param>
    public bool WasSetBackBefore(WatchedUntil now, TimeSpan noise) =>
        BootId is not null && BootId == now.BootId
        && TimeSpan.FromTicks((now.Uptime - Uptime) / NanosecondsATick) - (now.At - At) > noise;
}
