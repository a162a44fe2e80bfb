using Companion.Journal;
using Companion.Journal.Disk;
using Companion.Journal.Format;
using Companion.Journal.Heads;
using Companion.Papers.Coding;
using Companion.Review;

namespace Companion.Tablet.Web;

/// <summary>Signs the codes of papers with the key of the store, by which the ends of its chains are signed. One thread at a time.</summary>
public sealed class StorePaperSigner : IPaperSigner
{
    private readonly SigningKey _key;

    private StorePaperSigner(SigningKey key, Guid tablet) => (_key, Tablet) = (key, tablet);

    /// <inheritdoc/>
    public Guid Tablet { get; }

    /// <inheritdoc/>
    public string KeyId => HeadStatement.KeyId(_key.PublicKey);

    /// <summary>The code of a record's papers; null when the store has no key, or the record no entry.</summary>
    /// <param name="store">The store's folder.</param>
    /// <param name="record">A record of this store.</param>
    public static PaperCode? CodeOf(string store, RecordedJob record)
    {
        var disk = new LocalDisk();
        using var key = SigningKey.Read(disk, StoreFiles.Current(disk, store).Key);
        return key is not null && record.Entries is [.., { Entry: var last }] && PaperStatement.Of(record, EntryCodec.TabletOf(last)) is { } statement
            ? PaperCode.Of(statement, new StorePaperSigner(key, statement.Tablet))
            : null;
    }

    /// <inheritdoc/>
    public byte[] Sign(ReadOnlySpan<byte> statement) => _key.Sign(statement);
}
