using Companion.Voice.Audio;
using Companion.Voice.Ear;
using Companion.Voice.Tests.Support;

namespace Companion.Voice.Tests.Audio;

public sealed class WavTests : IDisposable
{
    private readonly string path = Path.Combine(Path.GetTempPath(), $"companion-{Guid.NewGuid():N}.wav");

    public void Dispose() => File.Delete(path);

    [Fact]
    public void What_is_written_is_read_back()
    {
        var sound = Sounds.Noise(0.3, 0.1);
        WavFile.Write(path, sound);
        Assert.Equal(sound, WavFile.Read(path));
    }

    [Fact]
    public void A_loudspeaker_s_file_is_whole_after_every_drain()
    {
        var sound = Sounds.Noise(0.1, 0.1);
        using var loudspeaker = new WavLoudspeaker(path, new NoPace());
        loudspeaker.Play(sound);
        loudspeaker.Drain();
        loudspeaker.Play(sound);
        loudspeaker.Drain();
        using var shared = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        var bytes = new byte[shared.Length];
        shared.ReadExactly(bytes);
        Assert.Equal([.. sound, .. sound], WavFile.Parse(bytes));
    }

    [Theory]
    [InlineData(new byte[0])]
    [InlineData(new byte[] { 82, 73, 70, 70, 0, 0, 0, 0, 87, 65, 86, 69, 100, 97 })]
    public void What_is_no_wav_file_is_refused(byte[] bytes) => Assert.Throws<InvalidDataException>(() => WavFile.Parse(bytes));

    [Theory]
    [InlineData(8_000)]
    [InlineData(22_050)]
    [InlineData(44_100)]
    public void Changing_the_rate_keeps_a_tone_and_its_level(int rate)
    {
        var tone = Enumerable.Range(0, rate).Select(n => (short)(10_000 * Math.Sin(2 * Math.PI * 1000 * n / rate))).ToArray();
        var converted = Resampler.Convert(tone, rate);
        Assert.InRange(converted.Length, 15_999, 16_000);
        var real = converted.Skip(8_000).Take(512).Select(value => (double)value).ToArray();
        var imaginary = new double[512];
        new Fourier(512).Transform(real, imaginary);
        var power = real.Zip(imaginary, (re, im) => (re * re) + (im * im)).Take(257).ToList();

        // computed: 1000 Hz is bin 32 of 512 at 16 kHz; a sine of amplitude A has |X| = A * 512 / 2 there.
        Assert.Equal(32, power.IndexOf(power.Max()));
        Assert.InRange(Math.Sqrt(power[32]) / 256, 9_900, 10_100);
    }

    [Fact]
    public void Real_pace_takes_as_long_as_it_should_and_a_faster_one_less()
    {
        var watch = System.Diagnostics.Stopwatch.StartNew();
        var pace = new RealPace(TimeProvider.System, 4);
        for (var n = 0; n < 10; n++)
        {
            pace.Pass(TimeSpan.FromMilliseconds(32), CancellationToken.None);
        }

        Assert.InRange(watch.ElapsedMilliseconds, 75, 1_000);
    }
}
