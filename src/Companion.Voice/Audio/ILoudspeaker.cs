namespace Companion.Voice.Audio;

/// <summary>A sink of sound, 16 kHz mono 16 bit. Used by one thread, the prompt queue's.</summary>
public interface ILoudspeaker : IDisposable
{
    /// <summary>Hands over samples, waiting until the device takes them. Opens the device when it is not open.</summary>
    /// <exception cref="AudioDeviceException">The device is missing or went away.</exception>
    void Play(ReadOnlySpan<short> samples);

    /// <summary>Waits until everything handed over has sounded.</summary>
    /// <exception cref="AudioDeviceException">The device went away first.</exception>
    void Drain();

    /// <summary>Drops what was handed over and has not sounded yet.</summary>
    void Discard();

    /// <summary>Looks whether the device is there; opens it when it is not open.</summary>
    /// <exception cref="AudioDeviceException">It is not.</exception>
    void Probe();
}
