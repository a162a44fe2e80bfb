using Companion.Domain.Time;

namespace Companion.Domain.Events;

/// <summary>The technician is told that the sound of this job is recorded.</summary>
/// <param name="Days">Days that it is kept after the job has ended.</param>
/// <param name="OrderedBy">Who ordered it.</param>
public sealed record SoundAnnounced(int Days, Personal OrderedBy) : JobEvent;

/// <summary>A part of the job's sound is whole and lies beside the journal.</summary>
/// <param name="File">The name of its file.</param>
/// <param name="Boot">The running period of the operating system that its times belong to.</param>
/// <param name="From">CLOCK_BOOTTIME of its first sample.</param>
/// <param name="Until">CLOCK_BOOTTIME after its last sample.</param>
/// <param name="Digest">SHA-256 of the file, in lower-case hex.</param>
/// <param name="Missing">Milliseconds in it that are silence because the sound was missing.</param>
/// <param name="Cut">True when the recording was cut off, and the file was made whole afterwards.</param>
public sealed record SoundRecorded(string File, string Boot, Ticks From, Ticks Until, string Digest, int Missing, bool Cut) : JobEvent;
