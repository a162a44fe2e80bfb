namespace Companion.Domain.Sound;

/// <summary>That the sound of a job is recorded, as the operator ordered it. Without one nothing is recorded.</summary>
/// <param name="RetentionDays">Days that the sound is kept after its job has ended.</param>
/// <param name="ApprovedBy">Who ordered it; null once the name has been erased.</param>
public sealed record SoundPolicy(int RetentionDays, string? ApprovedBy);
