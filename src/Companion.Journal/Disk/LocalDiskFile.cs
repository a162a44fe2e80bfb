using Microsoft.Win32.SafeHandles;

namespace Companion.Journal.Disk;

/// <summary>A file of the local disk, without any buffer of its own.</summary>
internal sealed class LocalDiskFile(SafeFileHandle handle) : IDiskFile
{
    /// <inheritdoc/>
    public long Length => RandomAccess.GetLength(handle);

    /// <inheritdoc/>
    public int Read(long offset, Span<byte> buffer)
    {
        var total = 0;
        while (total < buffer.Length)
        {
            var read = RandomAccess.Read(handle, buffer[total..], offset + total);
            if (read == 0)
            {
                break;
            }

            total += read;
        }

        return total;
    }

    /// <inheritdoc/>
    public void Write(long offset, ReadOnlySpan<byte> bytes) => RandomAccess.Write(handle, bytes, offset);

    /// <inheritdoc/>
    public void SetLength(long length) => RandomAccess.SetLength(handle, length);

    /// <inheritdoc/>
    public void Sync() => FileSync.Sync(handle);

    /// <inheritdoc/>
    public void Dispose() => handle.Dispose();
}
