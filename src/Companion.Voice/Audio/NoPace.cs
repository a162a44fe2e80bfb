namespace Companion.Voice.Audio;

/// <summary>No time passes: sound is taken and given as fast as the machine can. For tests, and for files whose time is simulated.</summary>
public sealed class NoPace : IPace
{
    /// <inheritdoc/>
    public void Pass(TimeSpan length, CancellationToken cancellation)
    {
    }
}
