namespace Companion.Voice.Audio;

/// <summary>
/// Lets time pass for sources and sinks that have no clock of their own (files, scripted speech, silence).
/// A rehearsal at speed N passes N times as much; a simulated clock may be moved on here. Callable from any thread.
/// </summary>
public interface IPace
{
    /// <summary>Returns when the given length has passed, or when cancelled.</summary>
    void Pass(TimeSpan length, CancellationToken cancellation);
}
