using Companion.Voice.Detection;

namespace Companion.Voice.Tests.Support;

/// <summary>Takes loud frames for speech.</summary>
public sealed class FakeDetector : ISpeechProbability
{
    public float Of(ReadOnlySpan<float> frame)
    {
        var loudest = 0f;
        foreach (var sample in frame)
        {
            loudest = MathF.Max(loudest, MathF.Abs(sample));
        }

        return loudest > 0.05f ? 1 : 0;
    }

    public void Reset()
    {
    }
}
