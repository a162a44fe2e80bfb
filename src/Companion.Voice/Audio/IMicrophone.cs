namespace Companion.Voice.Audio;

/// <summary>
/// A source of sound, 16 kHz mono in [-1,1]. Used by one thread at a time, except <see cref="IDisposable.Dispose"/>.
/// </summary>
public interface IMicrophone : IDisposable
{
    /// <summary>Opens the device, again after a loss.</summary>
    /// <exception cref="AudioDeviceException">It is not there.</exception>
    void Open();

    /// <summary>Fills the frame, waiting for the sound as long as it lasts. False when the source has ended for good (a file).</summary>
    /// <exception cref="AudioDeviceException">The device went away; <see cref="Open"/> may bring it back.</exception>
    bool Read(Span<float> frame, CancellationToken cancellation);
}
