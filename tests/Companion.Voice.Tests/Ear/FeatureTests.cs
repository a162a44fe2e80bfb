using Companion.Voice.Ear;

namespace Companion.Voice.Tests.Ear;

public sealed class FeatureTests
{
    private readonly FeatureExtractor extractor = new();

    [Theory]
    [InlineData(399, 0)]
    [InlineData(400, 1)]
    [InlineData(559, 1)]
    [InlineData(560, 2)]
    [InlineData(16_000, 98)]
    public void Frames_are_counted_without_padding(int samples, int frames) =>
        Assert.Equal(frames, extractor.Extract(new float[samples]).Frames); // computed: 1 + (N - 400) / 160

    [Fact]
    public void The_transform_agrees_with_its_definition()
    {
        var random = new Random(7);
        var real = Enumerable.Range(0, 64).Select(_ => random.NextDouble() - 0.5).ToArray();
        var imaginary = new double[64];
        var expected = Enumerable.Range(0, 64).Select(k => real.Select((x, n) => (
            Re: x * Math.Cos(-2 * Math.PI * k * n / 64), Im: x * Math.Sin(-2 * Math.PI * k * n / 64)))
            .Aggregate((one, two) => (one.Re + two.Re, one.Im + two.Im))).ToArray(); // computed from the definition
        new Fourier(64).Transform(real, imaginary);
        for (var k = 0; k < 64; k++)
        {
            Assert.Equal(expected[k].Re, real[k], 9);
            Assert.Equal(expected[k].Im, imaginary[k], 9);
        }
    }

    [Fact]
    public void Mel_bands_peak_in_order_and_lie_between_60_and_7600_hertz()
    {
        for (var band = 0; band < FeatureExtractor.Bands; band++)
        {
            var bins = Enumerable.Range(0, MelBank.Bins).Where(bin => MelBank.Weight(band, bin) > 0).ToList();
            Assert.All(bins, bin => Assert.InRange(bin * 31.25, 60, 7600));
            Assert.All(bins, bin => Assert.InRange(MelBank.Weight(band, bin), 0, 1));
        }

        // computed: 2595 log10(1 + f/700); the 66 points are 43.0 mel apart, band 30 peaks at point 31.
        var low = 2595 * Math.Log10(1 + (60 / 700.0));
        var high = 2595 * Math.Log10(1 + (7600 / 700.0));
        double Point(int n) => 700 * (Math.Pow(10, (low + ((high - low) * n / 65)) / 2595) - 1);
        var nearest = (int)Math.Round(Point(31) / 31.25);
        var hertz = nearest * 31.25;
        var expected = hertz < Point(31) ? (hertz - Point(30)) / (Point(31) - Point(30)) : (Point(32) - hertz) / (Point(32) - Point(31));
        Assert.Equal(expected, MelBank.Weight(30, nearest), 9);
    }

    [Fact]
    public void A_tone_has_the_energy_that_the_formula_gives()
    {
        // Two seconds, the first silent: after removing the mean, half the log of the ratio stands above and half below.
        var samples = new float[32_000];
        for (var n = 16_000; n < samples.Length; n++)
        {
            samples[n] = 0.5f * MathF.Sin(2 * MathF.PI * 1000 * n / 16_000);
        }

        var features = extractor.Extract(samples);

        // computed: |X|^2 over 400 Hann samples zero-padded to 512 at bin k, weighted by the triangles; direct sum, no fast transform.
        var band = Enumerable.Range(0, 64).MaxBy(b => MelBank.Weight(b, 32));
        double energy = 0;
        for (var bin = 0; bin < 257; bin++)
        {
            double re = 0, im = 0;
            for (var n = 0; n < 400; n++)
            {
                var x = samples[20_000 + n] * (0.5 - (0.5 * Math.Cos(2 * Math.PI * n / 400)));
                re += x * Math.Cos(2 * Math.PI * bin * n / 512);
                im -= x * Math.Sin(2 * Math.PI * bin * n / 512);
            }

            energy += MelBank.Weight(band, bin) * ((re * re) + (im * im));
        }

        var loud = features.Values[(125 * 64) + band]; // frame 125 begins at sample 20 000
        var silent = features.Values[(10 * 64) + band];
        Assert.Equal(Math.Log(energy + 1e-6) - Math.Log(1e-6), loud - silent, 3);
        Assert.Equal(0, Enumerable.Range(0, features.Frames).Average(frame => features.Values[(frame * 64) + band]), 3);
    }
}
