namespace Companion.Tablet.Importing;

/// <summary>What became of an import.</summary>
/// <param name="Refused">True when nothing was recorded and nothing copied.</param>
/// <param name="Words">What happened, or why it was refused and what to do.</param>
public sealed record ImportOutcome(bool Refused, string Words);
