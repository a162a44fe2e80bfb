namespace Companion.Benchmarks;

/// <summary>Adds margins and noise to a clip at a known ratio of the clip's own level to the noise's.</summary>
public sealed class VoiceNoise
{
    private const int Margin = 4_800;
    private const double CleanDecibels = 55;

    private readonly IReadOnlyList<short[]> recordings;

    /// <summary>Noise recordings to draw from.</summary>
    public VoiceNoise(IReadOnlyList<short[]> recordings) => this.recordings = recordings;

    /// <summary>The clip with 0.3 s before and after, in noise. Always the same for the same seed.</summary>
    /// <param name="clip">The clip.</param>
    /// <param name="kind">"clean" (a faint hiss), "real" or "pink".</param>
    /// <param name="decibels">Signal-to-noise ratio.</param>
    /// <param name="seed">Chooses the noise.</param>
    public short[] Mix(short[] clip, string kind, double decibels, int seed)
    {
        var random = new Random(seed);
        var noise = kind == "real" ? Real(clip.Length + (2 * Margin), random) : Pink(clip.Length + (2 * Margin), random);
        var ratio = Rms(clip) / Math.Max(1e-9, Rms(noise)) / Math.Pow(10, (kind == "clean" ? CleanDecibels : decibels) / 20);
        var mixed = noise.Select((value, n) => (value * ratio) + (n >= Margin && n < Margin + clip.Length ? clip[n - Margin] : 0)).ToArray();
        var loudest = mixed.Max(Math.Abs);
        var scale = loudest > short.MaxValue ? short.MaxValue / loudest : 1;
        return [.. mixed.Select(value => (short)(value * scale))];
    }

    private static double Rms<T>(T[] samples)
        where T : System.Numerics.INumber<T> => Math.Sqrt(samples.Average(value => double.CreateChecked(value) * double.CreateChecked(value)));

    private double[] Real(int length, Random random)
    {
        var recording = recordings[random.Next(recordings.Count)];
        var start = random.Next(recording.Length);
        return [.. Enumerable.Range(0, length).Select(n => (double)recording[(start + n) % recording.Length])];
    }

    // Paul Kellet's filter (from memory): white noise to within half a decibel of -3 dB an octave.
    private static double[] Pink(int length, Random random)
    {
        double b0 = 0, b1 = 0, b2 = 0;
        var noise = new double[length];
        for (var n = 0; n < length; n++)
        {
            var white = (random.NextDouble() * 2) - 1;
            b0 = (0.99765 * b0) + (white * 0.0990460);
            b1 = (0.96300 * b1) + (white * 0.2965164);
            b2 = (0.57000 * b2) + (white * 1.0526913);
            noise[n] = b0 + b1 + b2 + (white * 0.1848);
        }

        return noise;
    }
}
