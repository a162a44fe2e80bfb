using Companion.Engine;
using Companion.Engine.Ports;

namespace Companion.Tablet.Watchdog;

/// <summary>
/// Brings the watchdog's alarm into the job once the engine turns again: it is journalled and said, and shown until a person has given
/// an answer that was taken (I19). What a standstill voids is for the rules to say. Callable from any thread.
/// </summary>
public static class OutsideAlarm
{
    /// <summary>An alarm sounded; without an open job it concerns nobody any more.</summary>
    /// <param name="engine">The engine that turns again.</param>
    /// <param name="seconds">How long it made no turn.</param>
    public static void Tell(JobEngine engine, int seconds)
    {
        if (engine.Snapshot.Job is { Ended: false })
        {
            var words = $"The Companion stood still for {seconds} seconds and an alarm sounded. Look again at what was proved.";
            engine.Post(new DeviceNotice(DeviceNotice.Companion, false, words) { Warning = words });
        }
    }
}
