using Companion.Voice.Audio;

namespace Companion.Voice.Ear;

/// <summary>64 triangles of height 1, equally spaced in mel = 2595 log10(1 + f/700) from 60 to 7600 Hz, over the bins k * 16000/512.</summary>
public static class MelBank
{
    /// <summary>Bins of the power spectrum.</summary>
    public const int Bins = 257;

    private const double LowestHertz = 60;
    private const double HighestHertz = 7600;
    private const double BinHertz = AudioFormat.SampleRate / 512.0;

    private static readonly (int First, double[] Weights)[] Bands = Build();

    /// <summary>Weighted energy of one band in a power spectrum.</summary>
    public static double Energy(int band, ReadOnlySpan<double> power)
    {
        var (first, weights) = Bands[band];
        double sum = 0;
        for (var n = 0; n < weights.Length; n++)
        {
            sum += weights[n] * power[first + n];
        }

        return sum;
    }

    /// <summary>A band's weight at a bin.</summary>
    public static double Weight(int band, int bin)
    {
        var (first, weights) = Bands[band];
        return bin >= first && bin < first + weights.Length ? weights[bin - first] : 0;
    }

    private static (int First, double[] Weights)[] Build()
    {
        var points = new double[FeatureExtractor.Bands + 2];
        double low = Mel(LowestHertz), high = Mel(HighestHertz);
        for (var n = 0; n < points.Length; n++)
        {
            points[n] = Hertz(low + ((high - low) * n / (points.Length - 1)));
        }

        var bands = new (int, double[])[FeatureExtractor.Bands];
        for (var band = 0; band < bands.Length; band++)
        {
            var first = Math.Min(Bins - 1, (int)Math.Ceiling(points[band] / BinHertz));
            var last = Math.Min(Bins - 1, (int)Math.Floor(points[band + 2] / BinHertz));
            bands[band] = (first, Triangle(points[band], points[band + 1], points[band + 2], first, last));
        }

        return bands;
    }

    private static double[] Triangle(double left, double peak, double right, int first, int last)
    {
        var weights = new double[Math.Max(0, last - first + 1)];
        for (var n = 0; n < weights.Length; n++)
        {
            var hertz = (first + n) * BinHertz;
            weights[n] = Math.Max(0, Math.Min((hertz - left) / (peak - left), (right - hertz) / (right - peak)));
        }

        return weights;
    }

    private static double Mel(double hertz) => 2595 * Math.Log10(1 + (hertz / 700));

    private static double Hertz(double mel) => 700 * (Math.Pow(10, mel / 2595) - 1);
}
