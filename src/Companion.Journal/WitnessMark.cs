namespace Companion.Journal;

/// <summary>A place in the witness up to which somebody knows a chain.</summary>
/// <param name="Segment">The set of files.</param>
/// <param name="Offset">A place in the witness behind which every later entry of the chain lies, in bytes.</param>
/// <param name="Chain">The chain.</param>
/// <param name="Sequence">The last entry that is known.</param>
/// <param name="Hash">Its hash.</param>
public sealed record WitnessMark(int Segment, long Offset, string Chain, long Sequence, string Hash);
