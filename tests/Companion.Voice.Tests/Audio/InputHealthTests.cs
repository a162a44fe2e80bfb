using Companion.Voice.Audio;
using Companion.Voice.Tests.Support;

namespace Companion.Voice.Tests.Audio;

public sealed class InputHealthTests
{
    public static TheoryData<double, string> Faults => new()
    {
        { 0, "no signal" },
        { 0.25, "stuck" },
    };

    [Theory]
    [MemberData(nameof(Faults))]
    public void A_flat_input_is_noticed_within_two_seconds_and_so_is_its_end(double level, string expected)
    {
        var health = new InputHealth();
        Assert.Contains(Frames(2), _ => health.Take(Constant((float)level)));
        Assert.Contains(expected, health.Fault);
        Assert.True(health.Take(Sounds.Floats(Sounds.Noise(0.032, 0.001))));
        Assert.Null(health.Fault);
    }

    [Fact]
    public void An_overdriven_input_is_noticed_within_two_seconds_and_so_is_its_end()
    {
        var health = new InputHealth();
        Assert.Contains(Frames(2), _ => health.Take(Sounds.Floats(Sounds.Tone(0.032, 3))));
        Assert.Contains("overdriven", health.Fault);
        Assert.Contains(Frames(1.5), _ => health.Take(Sounds.Floats(Sounds.Tone(0.032))));
        Assert.Null(health.Fault);
    }

    [Fact]
    public void Loud_speech_and_quiet_hiss_are_no_faults()
    {
        var health = new InputHealth();
        Assert.DoesNotContain(Frames(5), _ => health.Take(Sounds.Floats(Sounds.Tone(0.032, 0.98))));
        Assert.DoesNotContain(Frames(5), n => health.Take(Sounds.Floats(Sounds.Noise(0.032, 0.0003, n))));
    }

    private static float[] Constant(float level)
    {
        var frame = new float[AudioFormat.FrameSamples];
        Array.Fill(frame, level);
        return frame;
    }

    private static IEnumerable<int> Frames(double seconds) => Enumerable.Range(0, (int)(seconds / 0.032));
}
