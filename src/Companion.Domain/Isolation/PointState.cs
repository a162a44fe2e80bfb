namespace Companion.Domain.Isolation;

/// <summary>An isolation point that is open.</summary>
/// <param name="OpenedAt">Sequence of the opening.</param>
/// <param name="Lock">Number of the lock that is fitted; null while none is.</param>
public sealed record PointState(long OpenedAt, string? Lock);
