namespace Companion.Voice.Detection;

/// <summary>Estimates how far an utterance's speech stands out of the noise: 10 log10 of active speech power over noise power. Static and pure.</summary>
public static class SignalToNoise
{
    /// <summary>Highest value given: beyond it the noise is below what 16 bits carry.</summary>
    public const int Most = 60;

    /// <summary>Lowest value given.</summary>
    public const int Least = -10;

    private const int QuietPieceSamples = 160;
    private const double QuietShare = 0.1;

    /// <summary>Whole decibels. Without noise heard before the utterance its own quietest tenth stands in for it.</summary>
    public static int Estimate(Utterance utterance)
    {
        ArgumentNullException.ThrowIfNull(utterance);
        var noise = utterance.NoisePower ?? QuietestTenth(utterance.Samples);
        var speech = ActiveSpeechLevel.Power(utterance.Samples) - noise;
        if (speech <= 0)
        {
            return Least;
        }

        return noise <= 0 ? Most : Math.Clamp((int)Math.Round(10 * Math.Log10(speech / noise)), Least, Most);
    }

    private static double QuietestTenth(float[] samples)
    {
        var powers = samples.Chunk(QuietPieceSamples).Select(piece => piece.Average(sample => (double)sample * sample)).Order().ToList();
        return powers.Count == 0 ? 0 : powers.Take(Math.Max(1, (int)(powers.Count * QuietShare))).Average();
    }
}
