using Companion.Contracts.Uplink;

namespace Companion.Watchroom.Watching;

/// <summary>
/// Keeps every deadline on the watch room's own clock (I11), by two rules that never mix: overdue = the time at which the last person's check-in
/// was received + interval + margin has passed; silent link = the time at which the last beat was received + margin has passed. This port is
/// what a store for a whole fleet fills next. Callable from any thread.
/// </summary>
public interface IWatchKeeper
{
    /// <summary>What is known now. Never blocks.</summary>
    WatchView View { get; }

    /// <summary>Raised after every change of <see cref="View"/>; handlers return at once.</summary>
    event Action? Changed;

    /// <summary>A beat came from a device that was found to be who it says. What it changes for good is durable when this completes.</summary>
    ValueTask<BeatAnswer> BeatAsync(string device, Beat beat, CancellationToken cancellation = default);

    /// <summary>A named person answers for an alert from now on, with a note. False when there is no such alert. An alert ends in no other way.</summary>
    ValueTask<bool> TakeAsync(string alert, string person, string note, CancellationToken cancellation = default);

    /// <summary>A named person ends the watch over a job that is over or whose tablet is lost; with a reason. False when there is no such watch.</summary>
    ValueTask<bool> EndWatchAsync(string device, string job, string person, string reason, CancellationToken cancellation = default);
}
