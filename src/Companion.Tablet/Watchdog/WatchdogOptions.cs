namespace Companion.Tablet.Watchdog;

/// <summary>What the watchdog watches, and how.</summary>
/// <param name="Beat">The address of the beat.</param>
/// <param name="Token">The token of the app's start.</param>
/// <param name="ProcessId">The app's process; null to watch the beat alone.</param>
public sealed record WatchdogOptions(Uri Beat, string Token, int? ProcessId)
{
    /// <summary>Without a beat for this long the alarm sounds: two seconds (I18) less one look, the pause before it, and some room for a machine that is busy itself.</summary>
    public TimeSpan Limit { get; init; } = TimeSpan.FromMilliseconds(1400);

    /// <summary>Between two looks.</summary>
    public TimeSpan LookEvery { get; init; } = TimeSpan.FromMilliseconds(100);

    /// <summary>The alarm is given again after this time, until the app answers.</summary>
    public TimeSpan AlarmAgain { get; init; } = TimeSpan.FromSeconds(5);
}
