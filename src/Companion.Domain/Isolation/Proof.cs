namespace Companion.Domain.Isolation;

/// <summary>Proved dead at one test place.</summary>
/// <param name="At">Sequence of the entry.</param>
/// <param name="Wall">Wall clock when it was recorded, for the statement that names place and time.</param>
public sealed record Proof(long At, DateTimeOffset Wall);
