using Companion.Contracts;

namespace Companion.Journal.Linking;

/// <summary>The one rule of how entries follow each other, for the store, the checker and the watch room. Pure; any thread.</summary>
public static class ChainLink
{
    /// <summary>What does not fit when an entry follows a head; null when it fits.</summary>
    /// <remarks>
    /// A gap in the sequence is taken only at <see cref="EntryTypes.SegmentStarted"/>; the previous hash must fit even there.
    /// </remarks>
    public static string? Misfit(ChainHead head, JournalEntry entry)
    {
        if (entry.PreviousHash != head.Hash)
        {
            return $"its previous hash {entry.PreviousHash} is not the hash {head.Hash} of entry {head.Sequence} before it";
        }

        if (entry.Sequence == head.Sequence + 1)
        {
            return null;
        }

        return entry.Sequence > head.Sequence && entry.Type == EntryTypes.SegmentStarted
            ? null
            : $"its sequence is {entry.Sequence}, expected {head.Sequence + 1}";
    }
}
