namespace Companion.Review;

/// <summary>Something wrong with a record.</summary>
/// <param name="Sequence">The entry at which it shows.</param>
/// <param name="Kind">What kind of trouble.</param>
/// <param name="Words">What it is, in plain words.</param>
public sealed record RecordTrouble(long Sequence, TroubleKind Kind, string Words);

/// <summary>What can be wrong with a record.</summary>
public enum TroubleKind
{
    /// <summary>Entries are missing before this one.</summary>
    Gap,

    /// <summary>Two entries claim one sequence: two journals for one job.</summary>
    Twice,

    /// <summary>The entry cannot be read as what its type says: damage.</summary>
    Unreadable,

    /// <summary>From this entry on a newer Companion wrote: times and types are shown, what the entries say is not.</summary>
    Newer,

    /// <summary>The wall clock was set: it moved against the running clock.</summary>
    ClockStep,

    /// <summary>The file, store or chain that holds the record is damaged, or its end is missing.</summary>
    Damaged,

    /// <summary>The entry does not link to the one before.</summary>
    BrokenLink,
}
