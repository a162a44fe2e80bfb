using Companion.Voice.Audio;

namespace Companion.Voice.Speaking;

/// <summary>
/// The sounds of the Companion, made by formula. The alarm sweeps its tones between 800 and 1200 Hz with a weak second harmonic, so its
/// energy lies within 500 to 2500 Hz, where ISO 7731 wants a danger signal's. Static.
/// </summary>
public static class AlarmTone
{
    private const double LowHertz = 800;
    private const double HighHertz = 1200;
    private const double SweepsPerSecond = 2.5;
    private const double Level = 0.85;
    private const double FadeSeconds = 0.02;
    private const double SecondsBeforeSpeech = 0.8;
    private const double SirenSeconds = 6;

    /// <summary>Sounds before every alarm prompt.</summary>
    public static short[] BeforeSpeech { get; } = Sweep(SecondsBeforeSpeech);

    /// <summary>Sounds when help is called and there is no signal.</summary>
    public static short[] Siren() => Sweep(SirenSeconds);

    private static short[] Sweep(double seconds)
    {
        var samples = new short[(int)(seconds * AudioFormat.SampleRate)];
        double phase = 0;
        for (var n = 0; n < samples.Length; n++)
        {
            var time = (double)n / AudioFormat.SampleRate;
            var place = 0.5 - (0.5 * Math.Cos(2 * Math.PI * SweepsPerSecond * time));
            phase += 2 * Math.PI * (LowHertz + ((HighHertz - LowHertz) * place)) / AudioFormat.SampleRate;
            var fade = Math.Min(1, Math.Min(time, seconds - time) / FadeSeconds);
            var value = ((0.8 * Math.Sin(phase)) + (0.2 * Math.Sin(2 * phase))) * Level * fade;
            samples[n] = (short)(value * short.MaxValue);
        }

        return samples;
    }
}
