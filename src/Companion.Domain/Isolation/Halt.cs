namespace Companion.Domain.Isolation;

/// <summary>Why the job does not go on.</summary>
/// <param name="Reason">In words.</param>
/// <param name="Final">True when nothing is left but "treat as live, keep away, hand over".</param>
public sealed record Halt(string Reason, bool Final);
