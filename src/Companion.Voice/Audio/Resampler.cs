namespace Companion.Voice.Audio;

/// <summary>Changes the sampling rate of a whole piece of sound to 16 kHz, with a windowed sinc filter (32 taps a side, Hann).</summary>
public static class Resampler
{
    private const int HalfTaps = 32;

    /// <summary>The sound at 16 kHz; the same array when it already is.</summary>
    public static short[] Convert(short[] samples, int rate)
    {
        ArgumentNullException.ThrowIfNull(samples);
        ArgumentOutOfRangeException.ThrowIfLessThan(rate, 1_000);
        if (rate == AudioFormat.SampleRate)
        {
            return samples;
        }

        var step = (double)rate / AudioFormat.SampleRate;

        // Going down, the filter must stop what the lower rate cannot carry.
        var cutoff = Math.Min(1, 1 / step);
        var converted = new short[(int)(samples.Length / step)];
        for (var n = 0; n < converted.Length; n++)
        {
            var value = Interpolate(samples, n * step, cutoff);
            converted[n] = (short)Math.Clamp(Math.Round(value), short.MinValue, short.MaxValue);
        }

        return converted;
    }

    private static double Interpolate(short[] samples, double position, double cutoff)
    {
        var reach = HalfTaps / cutoff;
        var first = Math.Max(0, (int)Math.Ceiling(position - reach));
        var last = Math.Min(samples.Length - 1, (int)Math.Floor(position + reach));
        double sum = 0;
        for (var k = first; k <= last; k++)
        {
            var distance = k - position;
            var angle = Math.PI * distance * cutoff;
            var sinc = Math.Abs(angle) < 1e-9 ? 1 : Math.Sin(angle) / angle;
            sum += samples[k] * cutoff * sinc * (0.5 + (0.5 * Math.Cos(Math.PI * distance / reach)));
        }

        return sum;
    }
}
