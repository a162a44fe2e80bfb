namespace Companion.Voice.Ear;

/// <summary>
/// Turns sound into features, exactly as the network was trained (scripts beside the model): 25 ms frames every 10 ms, periodic Hann,
/// 512-point power spectrum, 64 triangular mel bands from 60 to 7600 Hz, log(energy + 1e-6), mean over the utterance removed per band.
/// Safe for many threads.
/// </summary>
public sealed class FeatureExtractor
{
    /// <summary>Samples in one frame.</summary>
    public const int FrameSamples = 400;

    /// <summary>Samples from one frame to the next.</summary>
    public const int HopSamples = 160;

    /// <summary>Mel bands.</summary>
    public const int Bands = 64;

    private const int TransformLength = 512;
    private const double LogFloor = 1e-6;

    private readonly Fourier fourier = new(TransformLength);
    private readonly double[] window = new double[FrameSamples];

    /// <summary>Prepares the window.</summary>
    public FeatureExtractor()
    {
        for (var n = 0; n < FrameSamples; n++)
        {
            window[n] = 0.5 - (0.5 * Math.Cos(2 * Math.PI * n / FrameSamples));
        }
    }

    /// <summary>The features of one utterance, 16 kHz mono in [-1,1].</summary>
    public Features Extract(ReadOnlySpan<float> samples)
    {
        var frames = samples.Length < FrameSamples ? 0 : 1 + ((samples.Length - FrameSamples) / HopSamples);
        var values = new float[frames * Bands];
        var real = new double[TransformLength];
        var imaginary = new double[TransformLength];
        for (var frame = 0; frame < frames; frame++)
        {
            Array.Clear(real);
            Array.Clear(imaginary);
            var from = samples.Slice(frame * HopSamples, FrameSamples);
            for (var n = 0; n < FrameSamples; n++)
            {
                real[n] = from[n] * window[n];
            }

            fourier.Transform(real, imaginary);
            for (var n = 0; n < MelBank.Bins; n++)
            {
                real[n] = (real[n] * real[n]) + (imaginary[n] * imaginary[n]);
            }

            for (var band = 0; band < Bands; band++)
            {
                values[(frame * Bands) + band] = (float)Math.Log(MelBank.Energy(band, real) + LogFloor);
            }
        }

        RemoveMean(values, frames);
        return new Features(frames, values);
    }

    private static void RemoveMean(float[] values, int frames)
    {
        for (var band = 0; band < Bands; band++)
        {
            double sum = 0;
            for (var frame = 0; frame < frames; frame++)
            {
                sum += values[(frame * Bands) + band];
            }

            var mean = (float)(sum / Math.Max(1, frames));
            for (var frame = 0; frame < frames; frame++)
            {
                values[(frame * Bands) + band] -= mean;
            }
        }
    }
}
