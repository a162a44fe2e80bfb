using Companion.Journal.Disk;

namespace Companion.Tablet.Tests.Support;

/// <summary>The real disk, until it is told to refuse every write with a fault, as a full or read-only one does.</summary>
internal sealed class FailingDisk : IDisk
{
    private readonly LocalDisk _real = new();

    /// <summary>What every write meets; null while the disk is well.</summary>
    public IOException? Fault { get; set; }

    public void CreateDirectory(string path) => _real.CreateDirectory(path);

    public bool Exists(string path) => _real.Exists(path);

    public IReadOnlyList<string> Names(string directory) => _real.Names(directory);

    public IDiskFile Open(string path) => new FailingFile(this, _real.Open(path));

    public IDiskFile OpenShared(string path) => new FailingFile(this, _real.OpenShared(path));

    public IDiskFile OpenRead(string path) => _real.OpenRead(path);

    public IDiskFile CreatePrivate(string path) => new FailingFile(this, _real.CreatePrivate(path));

    public void Rename(string from, string to) => _real.Rename(from, to);

    public void Delete(string path) => _real.Delete(path);

    public void SyncDirectory(string path) => _real.SyncDirectory(path);

    public IDisposable Lock(string path) => _real.Lock(path);

    private void Check()
    {
        if (Fault is { } fault)
        {
            throw fault;
        }
    }

    private sealed class FailingFile(FailingDisk disk, IDiskFile file) : IDiskFile
    {
        public long Length => file.Length;

        public int Read(long offset, Span<byte> buffer) => file.Read(offset, buffer);

        /// <summary>Half of the bytes reach the disk before it is full.</summary>
        public void Write(long offset, ReadOnlySpan<byte> bytes)
        {
            if (disk.Fault is not null)
            {
                file.Write(offset, bytes[..(bytes.Length / 2)]);
            }

            disk.Check();
            file.Write(offset, bytes);
        }

        public void SetLength(long length)
        {
            disk.Check();
            file.SetLength(length);
        }

        public void Sync()
        {
            disk.Check();
            file.Sync();
        }

        public void Dispose() => file.Dispose();
    }
}
