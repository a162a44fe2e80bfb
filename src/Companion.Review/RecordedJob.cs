using System.Collections.Immutable;
using Companion.Contracts;
using Companion.Engine.Codec.Upcasting;

namespace Companion.Review;

/// <summary>One chain as it was recorded, opened as far as it can be: what fits no event is kept and told, never dropped. Immutable.</summary>
/// <param name="Chain">The job's id.</param>
/// <param name="Entries">What was recorded, ordered by sequence; the wall clock orders nothing.</param>
/// <param name="Troubles">What is wrong with the record, in plain words; empty when nothing is.</param>
public sealed record RecordedJob(string Chain, ImmutableArray<RecordedEntry> Entries, ImmutableArray<RecordTrouble> Troubles)
{
    /// <summary>True when it was a rehearsal.</summary>
    public bool Rehearsal => Entries is [{ Entry.Rehearsal: true }, ..];

    /// <summary>Opens the entries of one chain, in any order.</summary>
    public static RecordedJob Of(string chain, IEnumerable<JournalEntry> entries) => Of(chain, entries, Upcasters.Usual);

    /// <summary>The same, with what is wrong with the file or store that holds them: it is told first, each at the entry where it shows.</summary>
    public static RecordedJob Of(string chain, IEnumerable<JournalEntry> entries, IEnumerable<(long Sequence, string Words)> faults)
    {
        var job = Of(chain, entries);
        return job with { Troubles = [.. faults.Select(fault => new RecordTrouble(fault.Sequence, TroubleKind.Damaged, fault.Words)), .. job.Troubles] };
    }

    /// <summary>The same, by other steps between the versions of the format than this program's own.</summary>
    public static RecordedJob Of(string chain, IEnumerable<JournalEntry> entries, Upcasters upcasters) => RecordReader.Read(chain, entries, upcasters);
}
