using Companion.Domain.Time;

namespace Companion.Voice.Keeping;

/// <summary>Is given what the ear is given, all of it, also while the ear is shut. Called by the ear's capture thread: returns at once, never throws.</summary>
public interface ISoundTap
{
    /// <summary>A frame, 16 kHz mono in [-1,1], and when it had come.</summary>
    void Take(ReadOnlySpan<float> frame, Moment came);

    /// <summary>Sound is missing before the next frame.</summary>
    void Break();
}
