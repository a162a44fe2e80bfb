using Companion.Domain.Time;
using Companion.Engine;

namespace Companion.Screens;

/// <summary>
/// Says when a view has been without word from the engine for too long (I18): then it shows no verdict and no countdown and takes no answer.
/// Measured on CLOCK_BOOTTIME, so that a sleep counts in full.
/// </summary>
/// <param name="speed">How much faster than real time the clock runs; 1 outside rehearsals.</param>
public sealed class StaleGuard(int speed = 1)
{
    /// <summary>What a view without word says.</summary>
    public const string Words = "Not connected. Treat as live.";

    /// <summary>The limit of 2 s less what a turn of the screen and its drawing take on a loaded tablet.</summary>
    public static readonly Ticks Limit = Ticks.OfMilliseconds(1700);

    private readonly Ticks _limit = new(checked(Limit.Nanoseconds * speed));

    /// <summary>True when the engine's last turn is too long ago.</summary>
    public bool IsStale(Snapshot snapshot, Moment now) => snapshot.Moment.BootId != now.BootId || IsOld(snapshot.Moment.Boot, now);

    /// <summary>True when that turn of the engine is too long ago, or none of this running period.</summary>
    public bool IsOld(Ticks beat, Moment now) => beat > now.Boot || now.Boot - beat >= _limit;
}
