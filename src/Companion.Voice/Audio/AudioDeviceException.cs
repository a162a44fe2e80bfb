namespace Companion.Voice.Audio;

/// <summary>A sound device is missing, refused or went away. The message says which and what to do; trying again later is sensible.</summary>
public sealed class AudioDeviceException : Exception
{
    /// <summary>A fault with its plain-words message.</summary>
    public AudioDeviceException(string message)
        : base(message)
    {
    }
}
