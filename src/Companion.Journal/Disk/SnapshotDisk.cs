namespace Companion.Journal.Disk;

/// <summary>
/// A copy of files in memory, made as they are opened, so that LiteDB can open what it would otherwise rewrite. Nothing reaches the
/// disk below. Used by one thread.
/// </summary>
internal sealed class SnapshotDisk(IDisk source) : IDisk
{
    /// <inheritdoc/>
    public bool Exists(string path) => source.Exists(path);

    /// <inheritdoc/>
    public IReadOnlyList<string> Names(string directory) => source.Names(directory);

    /// <inheritdoc/>
    public IDiskFile Open(string path) => OpenShared(path);

    /// <inheritdoc/>
    public IDiskFile OpenShared(string path)
    {
        var copy = new MemoryFile();
        if (source.Exists(path))
        {
            using var file = source.OpenRead(path);
            copy.CopyFrom(file);
        }

        return copy;
    }

    /// <inheritdoc/>
    public IDiskFile OpenRead(string path) => OpenShared(path);

    /// <inheritdoc/>
    public IDiskFile CreatePrivate(string path) => OpenShared(path);

    /// <inheritdoc/>
    public void SyncDirectory(string path)
    {
        // Memory has nothing to lose.
    }

    /// <inheritdoc/>
    public void CreateDirectory(string path) => throw ReadOnly();

    /// <inheritdoc/>
    public void Rename(string from, string to) => throw ReadOnly();

    /// <inheritdoc/>
    public void Delete(string path) => throw ReadOnly();

    /// <inheritdoc/>
    public IDisposable Lock(string path) => throw ReadOnly();

    private static NotSupportedException ReadOnly() => new("A copy in memory has files only.");

    private sealed class MemoryFile : IDiskFile
    {
        private readonly MemoryStream bytes = new();

        public long Length => bytes.Length;

        public void CopyFrom(IDiskFile file)
        {
            var buffer = new byte[1 << 16];
            for (int read; (read = file.Read(bytes.Length, buffer)) > 0;)
            {
                bytes.Write(buffer, 0, read);
            }
        }

        public int Read(long offset, Span<byte> buffer)
        {
            bytes.Position = offset;
            return bytes.ReadAtLeast(buffer, buffer.Length, throwOnEndOfStream: false);
        }

        public void Write(long offset, ReadOnlySpan<byte> content)
        {
            bytes.Position = offset;
            bytes.Write(content);
        }

        public void SetLength(long length) => bytes.SetLength(length);

        public void Sync()
        {
            // Memory has nothing to lose.
        }

        public void Dispose() => bytes.Dispose();
    }
}
