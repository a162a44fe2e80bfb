namespace Companion.Journal.Format;

/// <summary>Where a draft goes: decided by the journal's one writer.</summary>
/// <param name="Tablet">The tablet's identity, the entry's source.</param>
/// <param name="Rehearsal">True in a rehearsal store.</param>
/// <param name="Sequence">Its number in its chain, from 1.</param>
/// <param name="PreviousHash">Hash of the entry before in that chain.</param>
public sealed record EntryPlace(Guid Tablet, bool Rehearsal, long Sequence, string PreviousHash);
