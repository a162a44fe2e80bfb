using System.Runtime.InteropServices;

namespace Companion.Voice.Audio;

/// <summary>
/// Notices sound that is an exact copy of what came a little before: a driver that hands out the same buffer for ever. No room and no
/// voice repeats itself to the last bit. One thread.
/// </summary>
public sealed class Repetition
{
    /// <summary>The longest buffer whose repetition is noticed: half a second.</summary>
    public const int LongestSamples = 16 * AudioFormat.FrameSamples;

    private readonly float[] sound = new float[LongestSamples + AudioFormat.FrameSamples];

    /// <summary>Takes the next frame. True when it was heard before, within the last <see cref="LongestSamples"/>.</summary>
    public bool Take(ReadOnlySpan<float> frame)
    {
        var all = sound.AsSpan();
        all[frame.Length..].CopyTo(all);
        frame.CopyTo(all[^frame.Length..]);

        // Compared by their bits: the search for whole numbers is many times as fast.
        var bits = MemoryMarshal.Cast<float, int>(all);
        return bits[..^1].LastIndexOf(bits[^frame.Length..]) >= 0;
    }

    /// <summary>Forgets what was heard.</summary>
    public void Reset() => Array.Fill(sound, float.NaN);
}
