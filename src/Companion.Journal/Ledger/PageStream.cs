using Companion.Journal.Disk;

namespace Companion.Journal.Ledger;

/// <summary>
/// The stream LiteDB is given for its data or log file. LiteDB itself never makes a commit durable; here every write and every cut
/// is synced before it returns, and a page that does not fit its checksum is refused. LiteDB reads and writes whole 8 KiB pages and
/// takes a lock on the stream around each (its ConcurrentStream), so this needs none.
/// </summary>
internal sealed class PageStream(IDiskFile pages, PageSums sums, string name) : Stream
{
    /// <summary>LiteDB's page size in bytes.</summary>
    public const int PageLength = 8192;

    private bool refusing;

    /// <inheritdoc/>
    public override bool CanRead => true;

    /// <inheritdoc/>
    public override bool CanSeek => true;

    /// <inheritdoc/>
    public override bool CanWrite => true;

    /// <inheritdoc/>
    public override long Length => pages.Length;

    /// <inheritdoc/>
    public override long Position { get; set; }

    /// <summary>From now on nothing is written: LiteDB tries to mark its file when it fails, which would change the evidence.</summary>
    public void RefuseWrites() => refusing = true;

    /// <summary>The first page that does not fit its checksum; null when all do.</summary>
    public int? FirstMisfit()
    {
        var buffer = new byte[PageLength];
        var count = (int)((pages.Length + PageLength - 1) / PageLength);
        for (var page = 0; page < count; page++)
        {
            if (pages.Read((long)page * PageLength, buffer) < PageLength || !sums.Fits(page, buffer))
            {
                return page;
            }
        }

        return null;
    }

    /// <inheritdoc/>
    public override int Read(byte[] buffer, int offset, int count)
    {
        var page = PageAt(count);
        var target = buffer.AsSpan(offset, count);
        var read = pages.Read(Position, target);
        if (read == 0)
        {
            return 0;
        }

        if (read < PageLength || !sums.Fits(page, target))
        {
            throw new PageMisfitException($"Page {page} of {name} does not fit its checksum: it was damaged on the disk.");
        }

        Position += read;
        return read;
    }

    /// <inheritdoc/>
    public override void Write(byte[] buffer, int offset, int count)
    {
        var page = PageAt(count);
        RefuseIfTold();
        var source = buffer.AsSpan(offset, count);
        sums.Announce(page, source);
        pages.Write(Position, source);
        pages.Sync();
        Position += count;
    }

    /// <inheritdoc/>
    public override void SetLength(long value)
    {
        RefuseIfTold();
        pages.SetLength(value);
        pages.Sync();
    }

    /// <inheritdoc/>
    public override void Flush()
    {
        // Every write is already on the disk.
    }

    /// <inheritdoc/>
    public override long Seek(long offset, SeekOrigin origin) => Position = origin switch
    {
        SeekOrigin.Begin => offset,
        SeekOrigin.Current => Position + offset,
        _ => Length + offset,
    };

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            sums.Dispose();
            pages.Dispose();
        }

        base.Dispose(disposing);
    }

    private int PageAt(int count) =>
        count == PageLength && Position % PageLength == 0
            ? (int)(Position / PageLength)
            : throw new NotSupportedException($"LiteDB asked for {count} bytes at {Position} of {name}: not a whole page.");

    private void RefuseIfTold()
    {
        if (refusing)
        {
            throw new IOException($"{name} takes no more writes.");
        }
    }
}
