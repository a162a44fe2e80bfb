using Companion.Journal.Disk;

namespace Companion.Journal.Ledger;

/// <summary>
/// The stream LiteDB is given for its data or log file. LiteDB never makes a commit durable; here the pages of one commit or one
/// checkpoint are held until <see cref="Settle"/>, which makes their checksums and then the pages durable, so that none reaches the
/// disk half-announced. A cut is durable when it returns, and a page that does not fit its checksum is refused. LiteDB reads and
/// writes whole 8 KiB pages under a lock on the stream (its ConcurrentStream), so this needs none.
/// </summary>
/// <param name="pages">The file.</param>
/// <param name="sums">Its checksums.</param>
/// <param name="name">Its name, for messages.</param>
/// <param name="before">A stream that must be settled before this one is cut: the data file, for the log.</param>
internal sealed class PageStream(IDiskFile pages, PageSums sums, string name, PageStream? before = null) : Stream
{
    /// <summary>LiteDB's page size in bytes.</summary>
    public const int PageLength = 8192;

    private readonly SortedDictionary<int, byte[]> held = [];
    private bool refusing;

    /// <inheritdoc/>
    public override bool CanRead => true;

    /// <inheritdoc/>
    public override bool CanSeek => true;

    /// <inheritdoc/>
    public override bool CanWrite => true;

    /// <inheritdoc/>
    public override long Length => Math.Max(pages.Length, held.Count == 0 ? 0 : OffsetOf(held.Keys.Last() + 1));

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
            if (pages.Read(OffsetOf(page), buffer) < PageLength || !sums.Fits(page, buffer))
            {
                return page;
            }
        }

        return null;
    }

    /// <summary>True when the file ends before the last page it was ever given.</summary>
    public bool IsShort => pages.Length < OffsetOf(sums.Count);

    /// <summary>True when a misfit at this page is what a power cut during the last write leaves behind.</summary>
    public bool IsInLastWrite(int page) => page >= sums.LastWriteFrom;

    /// <summary>Cuts off the last write.</summary>
    public void CutLastWrite() => SetLength(Math.Min(pages.Length, OffsetOf(sums.LastWriteFrom)));

    /// <inheritdoc/>
    public override int Read(byte[] buffer, int offset, int count)
    {
        var page = PageAt(count);
        var target = buffer.AsSpan(offset, count);
        if (held.TryGetValue(page, out var waiting))
        {
            waiting.CopyTo(target);
        }
        else if (Position >= pages.Length)
        {
            return 0;
        }
        else if (pages.Read(Position, target) < PageLength || !sums.Fits(page, target))
        {
            throw new PageMisfitException($"Page {page} of {name} does not fit its checksum: it was damaged on the disk.");
        }

        Position += count;
        return count;
    }

    /// <inheritdoc/>
    public override void Write(byte[] buffer, int offset, int count)
    {
        RefuseIfTold();
        held[PageAt(count)] = buffer.AsSpan(offset, count).ToArray();
        Position += count;
    }

    /// <summary>Makes the held pages durable: two syncs, however many pages.</summary>
    public void Settle()
    {
        if (held.Count == 0)
        {
            return;
        }

        RefuseIfTold();
        sums.Announce(held);
        foreach (var (page, bytes) in held)
        {
            pages.Write(OffsetOf(page), bytes);
        }

        pages.Sync();
        held.Clear();
    }

    /// <inheritdoc/>
    public override void SetLength(long value)
    {
        RefuseIfTold();
        before?.Settle();
        held.Clear();
        pages.SetLength(value);
        pages.Sync();
    }

    /// <summary>LiteDB calls this at the end of a checkpoint and of making a new file.</summary>
    public override void Flush() => Settle();

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

    private static long OffsetOf(int page) => (long)page * PageLength;

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
