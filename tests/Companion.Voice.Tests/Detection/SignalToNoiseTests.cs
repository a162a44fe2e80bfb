using Companion.Voice.Detection;
using Companion.Voice.Tests.Support;

namespace Companion.Voice.Tests.Detection;

public sealed class SignalToNoiseTests
{
    // SNR = 20 log10(rms_s / rms_n) over active speech (ITU-T P.56, from memory).
    [Theory]
    [InlineData(0)]
    [InlineData(5)]
    [InlineData(10)]
    [InlineData(20)]
    [InlineData(30)]
    public void A_tone_in_noise_has_the_ratio_it_was_mixed_at(int decibels)
    {
        // computed: a sine of amplitude A has an rms of A / sqrt(2).
        var noiseRms = 0.3 / Math.Sqrt(2) / Math.Pow(10, decibels / 20.0);
        var mixed = Sounds.Mix(Sounds.Tone(1), Sounds.Noise(1, noiseRms));
        Assert.InRange(SignalToNoise.Estimate(Of(mixed, noiseRms * noiseRms)), decibels - 1, decibels + 1);
    }

    [Fact]
    public void Pauses_do_not_lower_the_active_level()
    {
        var speech = Sounds.Join(Sounds.Silence(1), Sounds.Tone(3), Sounds.Silence(3));

        // computed: 0.3^2 / 2 = 0.045; up to 10 % less, because the hangover of 0.2 s counts a little of the pause.
        Assert.InRange(ActiveSpeechLevel.Power(Sounds.Floats(speech)), 0.045 * 0.9, 0.045 * 1.01);
    }

    [Fact]
    public void Without_noise_heard_before_the_quietest_part_stands_in()
    {
        var mixed = Sounds.Mix(Sounds.Join(Sounds.Silence(0.3), Sounds.Tone(0.7)), Sounds.Noise(1, 0.03));
        Assert.InRange(SignalToNoise.Estimate(Of(mixed, null)), 15, 20); // computed: 20 log10(0.2121 / 0.03) = 17.0
    }

    [Fact]
    public void Noise_alone_stands_in_no_ratio()
    {
        Assert.InRange(SignalToNoise.Estimate(Of(Sounds.Noise(1, 0.1), 0.0101)), SignalToNoise.Least, 0);
        Assert.Equal(SignalToNoise.Least, SignalToNoise.Estimate(Of(Sounds.Silence(1), null)));
    }

    private static Utterance Of(short[] samples, double? noisePower) => new(Sounds.Floats(samples), 0, samples.Length, noisePower, false);
}
