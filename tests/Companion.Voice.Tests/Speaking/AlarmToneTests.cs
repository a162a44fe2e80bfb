using Companion.Voice.Ear;
using Companion.Voice.Speaking;

namespace Companion.Voice.Tests.Speaking;

public sealed class AlarmToneTests
{
    [Fact]
    public void The_alarm_has_its_energy_where_a_danger_signal_is_heard()
    {
        var tone = AlarmTone.BeforeSpeech;
        double inside = 0, all = 0;
        for (var start = 0; start + 1024 <= tone.Length; start += 512)
        {
            var real = Enumerable.Range(0, 1024).Select(n => tone[start + n] * (0.5 - (0.5 * Math.Cos(2 * Math.PI * n / 1024)))).ToArray();
            var imaginary = new double[1024];
            new Fourier(1024).Transform(real, imaginary);
            for (var bin = 0; bin <= 512; bin++)
            {
                var power = (real[bin] * real[bin]) + (imaginary[bin] * imaginary[bin]);
                all += power;
                inside += bin * 16_000.0 / 1024 is >= 500 and <= 2500 ? power : 0;
            }
        }

        Assert.InRange(inside / all, 0.99, 1); // 500 to 2500 Hz: ISO 7731, from memory
    }

    [Fact]
    public void The_alarm_is_loud_and_does_not_clip()
    {
        Assert.InRange(AlarmTone.BeforeSpeech.Max(value => Math.Abs((int)value)), short.MaxValue / 2, short.MaxValue - 1);
        Assert.True(AlarmTone.Siren().Length > 5 * AlarmTone.BeforeSpeech.Length);
    }
}
