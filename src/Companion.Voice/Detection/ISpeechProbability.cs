namespace Companion.Voice.Detection;

/// <summary>Tells how likely a frame of 512 samples holds speech, knowing the frames before it. One thread.</summary>
public interface ISpeechProbability
{
    /// <summary>0 to 1 for the next frame.</summary>
    float Of(ReadOnlySpan<float> frame);

    /// <summary>Forgets the frames before: the sound was interrupted.</summary>
    void Reset();
}
