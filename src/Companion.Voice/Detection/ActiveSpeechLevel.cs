using Companion.Voice.Audio;

namespace Companion.Voice.Detection;

/// <summary>
/// The mean power of speech while somebody speaks, after ITU-T P.56 method B: a two-stage envelope with a time constant of 0.03 s,
/// a hangover of 0.2 s, and a margin of 15.9 dB between the active level and the threshold. Static and pure.
/// </summary>
public static class ActiveSpeechLevel
{
    private const double TimeConstantSeconds = 0.03;
    private const double HangoverSeconds = 0.2;
    private const double MarginDecibels = 15.9;

    // Thresholds an octave apart from one step of 16 bits to full scale.
    private const int Thresholds = 16;

    /// <summary>Active power (mean square) of sound in [-1,1]; 0 when there is nothing.</summary>
    public static double Power(ReadOnlySpan<float> samples)
    {
        var (energy, activity) = Measure(samples);
        double? higherGap = null, higherLevel = null;
        for (var n = Thresholds - 1; n >= 0; n--)
        {
            if (activity[n] == 0)
            {
                continue;
            }

            var level = 10 * Math.Log10(energy / activity[n]);
            var gap = level - Decibels(n);
            if (gap >= MarginDecibels)
            {
                // The crossing lies between this threshold and the one above.
                var share = higherGap is { } above ? (gap - MarginDecibels) / (gap - above) : 0;
                var crossing = level + (share * ((higherLevel ?? level) - level));
                return Math.Pow(10, crossing / 10);
            }

            (higherGap, higherLevel) = (gap, level);
        }

        return samples.Length == 0 ? 0 : energy / samples.Length;
    }

    private static (double Energy, long[] Activity) Measure(ReadOnlySpan<float> samples)
    {
        var smoothing = Math.Exp(-1 / (AudioFormat.SampleRate * TimeConstantSeconds));
        var hangover = (int)(AudioFormat.SampleRate * HangoverSeconds);
        var activity = new long[Thresholds];
        var since = new int[Thresholds];
        Array.Fill(since, hangover);
        double first = 0, second = 0, energy = 0;
        foreach (var sample in samples)
        {
            energy += sample * sample;
            first = (smoothing * first) + ((1 - smoothing) * Math.Abs(sample));
            second = (smoothing * second) + ((1 - smoothing) * first);
            for (var n = 0; n < Thresholds; n++)
            {
                since[n] = second >= Amplitude(n) ? 0 : since[n] + 1;
                activity[n] += since[n] < hangover ? 1 : 0;
            }
        }

        return (energy, activity);
    }

    private static double Amplitude(int threshold) => 1.0 / (1 << (Thresholds - threshold));

    private static double Decibels(int threshold) => 20 * Math.Log10(Amplitude(threshold));
}
