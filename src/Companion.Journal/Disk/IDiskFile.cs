namespace Companion.Journal.Disk;

/// <summary>An open file: nothing written or cut is durable before <see cref="Sync"/> returns. Used by one thread at a time.</summary>
public interface IDiskFile : IDisposable
{
    /// <summary>Length in bytes.</summary>
    long Length { get; }

    /// <summary>Reads at an offset; fewer bytes than asked only at the end of the file.</summary>
    int Read(long offset, Span<byte> buffer);

    /// <summary>Writes at an offset, growing the file when needed.</summary>
    void Write(long offset, ReadOnlySpan<byte> bytes);

    /// <summary>Cuts or grows the file.</summary>
    void SetLength(long length);

    /// <summary>Makes everything written so far durable (fsync).</summary>
    void Sync();
}
