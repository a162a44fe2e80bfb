using Companion.Journal.Heads;
using Companion.Papers.Coding;
using Companion.Review;

namespace Companion.Watchroom.Proving;

/// <summary>
/// Signs the codes of papers that are made here, with the watch room's own key: the tablet's never leaves the tablet. What is signed begins with
/// other words than the head of a tree does, so that neither can stand for the other. One thread at a time.
/// </summary>
internal sealed class RoomPaperSigner : IPaperSigner
{
    private readonly SigningKey key;

    private RoomPaperSigner(SigningKey key, Guid tablet) => (this.key, Tablet) = (key, tablet);

    /// <inheritdoc/>
    public Guid Tablet { get; }

    /// <inheritdoc/>
    public string KeyId => HeadStatement.KeyId(key.PublicKey);

    /// <summary>The code of a record's papers; null when there is no key yet, or the record has no entry.</summary>
    /// <param name="store">The watch room's folder.</param>
    /// <param name="tablet">Who made the record.</param>
    /// <param name="record">The record.</param>
    public static PaperCode? CodeOf(string store, Guid tablet, RecordedJob record)
    {
        using var key = CounterSigner.KeyOf(store);
        return key is not null && PaperStatement.Of(record, tablet) is { } statement ? PaperCode.Of(statement, new RoomPaperSigner(key, tablet)) : null;
    }

    /// <inheritdoc/>
    public byte[] Sign(ReadOnlySpan<byte> statement) => key.Sign(statement);
}
