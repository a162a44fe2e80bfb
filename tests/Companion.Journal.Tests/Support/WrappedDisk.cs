using Companion.Journal.Disk;

namespace Companion.Journal.Tests.Support;

/// <summary>Another disk whose syncs and lock a test can slow down, leave out or let fail.</summary>
public sealed class WrappedDisk(IDisk inner) : IDisk
{
    /// <summary>Called instead of every sync of a file, with the sync itself.</summary>
    public Action<Action> FileSync { get; set; } = sync => sync();

    /// <summary>Called instead of every sync of a folder, with the sync itself.</summary>
    public Action<Action> FolderSync { get; set; } = sync => sync();

    /// <summary>Called before the lock is taken.</summary>
    public Action Locking { get; set; } = () => { };

    public void CreateDirectory(string path) => inner.CreateDirectory(path);

    public bool Exists(string path) => inner.Exists(path);

    public IReadOnlyList<string> Names(string directory) => inner.Names(directory);

    public IDiskFile Open(string path) => new Handle(this, inner.Open(path));

    public IDiskFile OpenShared(string path) => new Handle(this, inner.OpenShared(path));

    public IDiskFile OpenRead(string path) => inner.OpenRead(path);

    public IDiskFile CreatePrivate(string path) => new Handle(this, inner.CreatePrivate(path));

    public void Rename(string from, string to) => inner.Rename(from, to);

    public void Delete(string path) => inner.Delete(path);

    public void SyncDirectory(string path) => FolderSync(() => inner.SyncDirectory(path));

    public IDisposable Lock(string path)
    {
        Locking();
        return inner.Lock(path);
    }

    private sealed class Handle(WrappedDisk disk, IDiskFile file) : IDiskFile
    {
        public long Length => file.Length;

        public int Read(long offset, Span<byte> buffer) => file.Read(offset, buffer);

        public void Write(long offset, ReadOnlySpan<byte> bytes) => file.Write(offset, bytes);

        public void SetLength(long length) => file.SetLength(length);

        public void Sync() => disk.FileSync(file.Sync);

        public void Dispose() => file.Dispose();
    }
}
