namespace Companion.Journal.Retention;

/// <summary>Personal texts of one entry.</summary>
/// <param name="Chain">Its chain.</param>
/// <param name="Sequence">Its sequence.</param>
/// <param name="Members">The names of the members that hold them.</param>
public sealed record SealedPlace(string Chain, long Sequence, IReadOnlyCollection<string> Members);
