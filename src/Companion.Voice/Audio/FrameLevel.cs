namespace Companion.Voice.Audio;

/// <summary>Simple measures of one frame, full scale being 1.</summary>
/// <param name="Peak">The largest magnitude.</param>
/// <param name="Mean">The mean: 0 for sound.</param>
/// <param name="ShareAtFullScale">The share of samples at full scale, 0 to 1.</param>
internal readonly record struct FrameLevel(float Peak, float Mean, float ShareAtFullScale)
{
    internal static FrameLevel Of(ReadOnlySpan<float> frame, float fullScale)
    {
        float peak = 0, sum = 0;
        var full = 0;
        foreach (var sample in frame)
        {
            var magnitude = MathF.Abs(sample);
            peak = MathF.Max(peak, magnitude);
            sum += sample;
            full += magnitude >= fullScale ? 1 : 0;
        }

        return new FrameLevel(peak, sum / frame.Length, (float)full / frame.Length);
    }
}
