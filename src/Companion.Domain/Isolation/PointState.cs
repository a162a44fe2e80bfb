namespace Companion.Domain.Isolation;

/// <summary>An isolation point that is open.</summary>
/// <param name="OpenedAt">Sequence of the opening.</param>
public sealed record PointState(long OpenedAt);
