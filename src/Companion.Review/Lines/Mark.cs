namespace Companion.Review.Lines;

/// <summary>One entry on the timeline.</summary>
/// <param name="Sequence">Its sequence.</param>
/// <param name="At">Nanoseconds since the chain's first entry, by the running clock.</param>
/// <param name="Lane">Its row.</param>
/// <param name="Kind">What it means.</param>
/// <param name="Words">What happened, in plain words.</param>
public sealed record Mark(long Sequence, long At, Lane Lane, MarkKind Kind, string Words);
