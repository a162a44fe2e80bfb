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
        Assert.DoesNotContain(Frames(5), n => health.Take(Sounds.Floats(Sounds.Mix(Sounds.Tone(0.032, 0.9), Sounds.Noise(0.032, 0.01, n)))));
        Assert.DoesNotContain(Frames(5), n => health.Take(Sounds.Floats(Sounds.Noise(0.032, 0.0003, n))));
    }

    [Theory]
    [InlineData(100)]
    [InlineData(512)]
    [InlineData(7_999)]
    public void An_input_that_repeats_a_buffer_is_noticed_within_two_seconds_and_so_is_its_end(int samples)
    {
        var health = new InputHealth();
        var buffer = Sounds.Floats(Sounds.Noise(samples / 16_000.0, 0.1));
        var stuck = Enumerable.Range(0, 2 * AudioFormat.SampleRate).Select(n => buffer[n % buffer.Length]).Chunk(AudioFormat.FrameSamples);
        Assert.Contains(stuck, frame => frame.Length == AudioFormat.FrameSamples && health.Take(frame));
        Assert.Contains("repeats itself", health.Fault);
        Assert.True(health.Take(Sounds.Floats(Sounds.Noise(0.032, 0.001, 2))));
        Assert.Null(health.Fault);
    }

    [Fact]
    public void A_microphone_that_is_far_too_quiet_counts_as_lost_until_it_is_clearly_louder()
    {
        var health = new InputHealth();
        Assert.Contains(Frames(2), n => health.Take(Steps(2, n)));
        Assert.Contains("far too quiet", health.Fault);
        Assert.DoesNotContain(Frames(1), n => health.Take(Steps(5, n)));
        Assert.True(health.Take(Steps(20, 1)));
        Assert.Null(health.Fault);
    }

    [Fact]
    public void An_input_that_dies_within_a_frame_is_told_of_as_dead_and_not_as_quiet()
    {
        var health = new InputHealth();
        health.Take([.. Steps(1, 1).Take(8), .. Enumerable.Repeat(0f, AudioFormat.FrameSamples - 8)]);
        Assert.Contains(Frames(2), _ => health.Take(Constant(0)));
        Assert.Contains("no signal", health.Fault);
    }

    [Fact]
    public void A_gust_of_wind_is_no_offset()
    {
        var health = new InputHealth();
        Assert.DoesNotContain(Frames(5), n => health.Take(
            Sounds.Floats(Sounds.Mix(Sounds.Tone(5, 0.5, 2)[(n * 512)..((n + 1) * 512)], Sounds.Noise(0.032, 0.01, n)))));
    }

    // Noise of so many steps of 16 bits.
    private static float[] Steps(int steps, int seed)
    {
        var random = new Random(seed);
        return [.. Enumerable.Range(0, AudioFormat.FrameSamples).Select(_ => random.Next(-steps, steps + 1) / 32768f)];
    }

    private static float[] Constant(float level)
    {
        var frame = new float[AudioFormat.FrameSamples];
        Array.Fill(frame, level);
        return frame;
    }

    private static IEnumerable<int> Frames(double seconds) => Enumerable.Range(0, (int)(seconds / 0.032));
}
