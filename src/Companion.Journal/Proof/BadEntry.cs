namespace Companion.Journal.Proof;

/// <summary>An entry that does not hold.</summary>
/// <param name="Chain">Its chain as it claims, or empty when not even that can be read.</param>
/// <param name="Sequence">Its sequence as it claims, or its number in order of arrival.</param>
/// <param name="What">What does not fit.</param>
public sealed record BadEntry(string Chain, long Sequence, string What);
