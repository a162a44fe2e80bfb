using System.Collections.Immutable;
using System.Globalization;
using Companion.Domain;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Review;
using Companion.Review.Replaying;

namespace Companion.Papers.Words;

/// <summary>What a record says at its end, and how far it can be believed. Immutable.</summary>
internal sealed class RecordEnd
{
    private RecordEnd(RecordedJob record, Job? job, ImmutableArray<RecordTrouble> troubles) => (Record, Job, Troubles) = (record, job, troubles);

    /// <summary>The record.</summary>
    public RecordedJob Record { get; }

    /// <summary>The job as its entries leave it; null when they do not tell.</summary>
    public Job? Job { get; }

    /// <summary>What is wrong with the record.</summary>
    public ImmutableArray<RecordTrouble> Troubles { get; }

    /// <summary>False when an entry may be missing, doubled, forged or unread: what voids a proof may be in it, so nothing is claimed.</summary>
    public bool Whole => Job is not null && Troubles.All(trouble => trouble.Kind == TroubleKind.ClockStep);

    /// <summary>True when the tablet's clock was set while the job ran.</summary>
    public bool ClockWasSet => Troubles.Any(trouble => trouble.Kind == TroubleKind.ClockStep);

    /// <summary>The entry that ended the job; null while it is open.</summary>
    public RecordedEntry? Ending => Record.Entries.LastOrDefault(entry => entry.Happened is JobClosed or JobHandedOver);

    /// <summary>The event that opened the job; null when the record does not hold it.</summary>
    public JobOpened? Opening => Record.Entries.Select(entry => entry.Happened).OfType<JobOpened>().FirstOrDefault();

    /// <summary>The last entry; null of an empty record.</summary>
    public RecordedEntry? Last => Record.Entries is [.., var last] ? last : null;

    /// <summary>A time of the record: the minute alone on the day of the last entry, which every paper names; with its day on any other.</summary>
    public string When(DateTimeOffset at) => Last is { } last && Local(at).Date == last.Entry.Time.Date ? PaperText.Minute(Local(at)) : Time(at);

    /// <summary>A time of the record with its day.</summary>
    public string Time(DateTimeOffset at) => PaperText.Time(Local(at));

    /// <summary>The same instant in the offset of the last entry: every paper names that one for all its times.</summary>
    public DateTimeOffset Local(DateTimeOffset at) => Last is { } last ? at.ToOffset(last.Entry.Time.Offset) : at;

    /// <summary>The proof of a place, as far as the record shows that it still counts; null otherwise.</summary>
    public Proof? ProofOf(TestPlaceId place) => Whole ? Job!.CountingProof(place) : null;

    /// <summary>The end of a record. Total: of a damaged one it says less.</summary>
    public static RecordEnd Of(RecordedJob record)
    {
        var troubles = record.Troubles;
        if (record.Entries is not [{ Sequence: 1, Happened: JobOpened }, ..])
        {
            var first = record.Entries is [var entry, ..] ? entry.Sequence : 1;
            troubles = troubles.Insert(0, new RecordTrouble(first, TroubleKind.Gap, string.Create(
                CultureInfo.InvariantCulture, $"The record does not begin with the opening of the job: its first entry here is {first}.")));
        }

        return new RecordEnd(record, Folded(record, troubles), troubles);
    }

    /// <summary>A fold over a record with holes may meet an event that no whole record has at that place.</summary>
    private static Job? Folded(RecordedJob record, ImmutableArray<RecordTrouble> troubles)
    {
        try
        {
            return new JobReplay(record).After(record.Entries.Length).Job;
        }
        catch (Exception fault) when (!troubles.IsEmpty && fault is NullReferenceException or InvalidOperationException or KeyNotFoundException or ArgumentException)
        {
            return null;
        }
    }
}
