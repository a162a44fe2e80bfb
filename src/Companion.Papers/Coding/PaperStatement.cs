using System.Collections.Immutable;
using Companion.Papers.Words;
using Companion.Review;

namespace Companion.Papers.Coding;

/// <summary>
/// What a paper states, short enough for a QR code. A function of the record and its tablet alone: whoever holds the record makes the same
/// statement, and with it the same check digits. Immutable.
/// </summary>
/// <param name="Job">The job's id.</param>
/// <param name="Rehearsal">True for a rehearsal.</param>
/// <param name="State">How the vehicle stood.</param>
/// <param name="RetestDue">When clear to work lapses at the latest; only with <see cref="PaperState.ClearToWork"/>.</param>
/// <param name="Places">The test places, as many as there is room for.</param>
/// <param name="MorePlaces">How many there was no room for.</param>
/// <param name="AsOf">The time of the last entry, in whole seconds, by the tablet's clock.</param>
/// <param name="Sequence">That entry's sequence.</param>
/// <param name="HashStart">The first <see cref="HashDigits"/> hex digits of that entry's hash.</param>
/// <param name="Tablet">The tablet.</param>
public sealed record PaperStatement(
    string Job,
    bool Rehearsal,
    PaperState State,
    DateTimeOffset? RetestDue,
    ImmutableArray<CodedPlace> Places,
    int MorePlaces,
    DateTimeOffset AsOf,
    long Sequence,
    string HashStart,
    Guid Tablet)
{
    /// <summary>How many hex digits of the last hash a statement names: 128 bits.</summary>
    public const int HashDigits = 32;

    /// <summary>Most test places that it names.</summary>
    public const int MostPlaces = 3;

    /// <summary>Its canonical words, one line for each thing; the first line names the kind of code.</summary>
    public string Text => StatementText.Of(this);

    /// <summary>What a record states at its end; null for a record without entries.</summary>
    public static PaperStatement? Of(RecordedJob record, Guid tablet)
    {
        var end = RecordEnd.Of(record);
        if (end.Last is not { } last)
        {
            return null;
        }

        var state = PaperStates.Of(end);
        var places = end.Job?.Way?.TestPlaces ?? [];
        return new PaperStatement(
            record.Chain,
            record.Rehearsal,
            state,
            state == PaperState.ClearToWork ? Minute(end.Job!.Clearance!.DueWall, last.Entry.Time) : null,
            [.. places.Take(MostPlaces).Select(place => CodedPlace.Of(
                place.Name, end.ProofOf(place.Id) is { } proof ? Minute(proof.Wall, last.Entry.Time) : null))],
            Math.Max(0, places.Length - MostPlaces),
            Cut(last.Entry.Time, TimeSpan.TicksPerSecond),
            last.Sequence,
            last.Entry.Hash.Length > HashDigits ? last.Entry.Hash[..HashDigits] : last.Entry.Hash,
            tablet);
    }

    /// <summary>Equal when it says the same; the places are compared one by one.</summary>
    public bool Equals(PaperStatement? other) => other is not null && StatementText.Of(this) == StatementText.Of(other);

    /// <inheritdoc/>
    public override int GetHashCode() => StatementText.Of(this).GetHashCode(StringComparison.Ordinal);

    private static DateTimeOffset Minute(DateTimeOffset at, DateTimeOffset last) => Cut(at.ToOffset(last.Offset), TimeSpan.TicksPerMinute);

    private static DateTimeOffset Cut(DateTimeOffset at, long ticks) => at.AddTicks(-(at.Ticks % ticks));
}
