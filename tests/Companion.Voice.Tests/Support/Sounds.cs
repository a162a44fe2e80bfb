using System.Diagnostics;
using Companion.Voice.Audio;

namespace Companion.Voice.Tests.Support;

/// <summary>Sound for tests: made by formula, or spoken by the synthesisers of the system.</summary>
public static class Sounds
{
    public static short[] Tone(double seconds, double level = 0.3, double hertz = 440) => Make(
        seconds, n => level * Math.Sin(2 * Math.PI * hertz * n / AudioFormat.SampleRate));

    public static short[] Noise(double seconds, double rms, int seed = 1)
    {
        var random = new Random(seed);

        // The sum of 12 uniform numbers has a variance of 1.
        return Make(seconds, _ => rms * (Enumerable.Range(0, 12).Sum(_ => random.NextDouble()) - 6));
    }

    public static short[] Silence(double seconds) => Make(seconds, _ => 0);

    public static short[] Join(params short[][] pieces) => [.. pieces.SelectMany(piece => piece)];

    public static short[] Mix(short[] one, short[] other) =>
        [.. one.Select((value, n) => (short)Math.Clamp(value + (n < other.Length ? other[n] : 0), short.MinValue, short.MaxValue))];

    public static float[] Floats(short[] samples) => [.. samples.Select(value => value / 32768f)];

    public static short[] Espeak(string voice, string text, int rate = 140) => new Voice.Speaking.EspeakSynthesiser(voice, rate).Speak(text);

    public static short[] Flite(string voice, string text)
    {
        var path = Path.Combine(Path.GetTempPath(), $"companion-{Guid.NewGuid():N}.wav");
        try
        {
            using var process = Process.Start("flite", ["-voice", voice, "-t", text, "-o", path]);
            process.WaitForExit();
            return WavFile.Read(path);
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static short[] Make(double seconds, Func<int, double> value) =>
        [.. Enumerable.Range(0, (int)(seconds * AudioFormat.SampleRate)).Select(n => (short)Math.Clamp(value(n) * 32768, -32768, 32767))];
}
