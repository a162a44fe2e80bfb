using Companion.Domain.Time;

namespace Companion.Voice.Keeping;

/// <summary>One frame on its way to the disk.</summary>
/// <param name="Job">The job that it belongs to.</param>
/// <param name="Samples">The sound.</param>
/// <param name="Came">When the whole of it had come.</param>
/// <param name="IsAfterBreak">True when sound is missing before it.</param>
internal readonly record struct SoundPiece(string Job, short[] Samples, Moment Came, bool IsAfterBreak);
