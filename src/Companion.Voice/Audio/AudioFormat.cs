namespace Companion.Voice.Audio;

/// <summary>The one sound format inside the Companion: mono at 16 kHz, read in frames of 32 ms (what the speech detector takes).</summary>
public static class AudioFormat
{
    /// <summary>Samples in a second.</summary>
    public const int SampleRate = 16_000;

    /// <summary>Samples in one frame of the microphone.</summary>
    public const int FrameSamples = 512;

    /// <summary>Samples in one piece handed to the loudspeaker: 20 ms, so that an alarm cuts in at once.</summary>
    public const int PlaySamples = 320;

    /// <summary>The length of a count of samples.</summary>
    public static TimeSpan Length(long samples) => TimeSpan.FromTicks(samples * (TimeSpan.TicksPerSecond / SampleRate));

    /// <summary>Whole samples in a length of time.</summary>
    public static int Samples(TimeSpan length) => checked((int)(length.Ticks * SampleRate / TimeSpan.TicksPerSecond));
}
