using Companion.Journal.Disk;

namespace Companion.Watchroom.Tests.Support;

/// <summary>This machine's disk until a test breaks it: from then on every change of a file fails, or hangs, and what was written can still be read. Any thread.</summary>
public sealed class FailingDisk : IDisk, IDisposable
{
    private readonly LocalDisk disk = new();
    private readonly ManualResetEventSlim moves = new(initialState: true);
    private volatile bool isBroken;

    /// <summary>Every change fails from now on with an input or output error.</summary>
    public void Break() => isBroken = true;

    /// <summary>Every change waits from now on.</summary>
    public void Hang() => moves.Reset();

    /// <summary>What waits goes on.</summary>
    public void GoOn() => moves.Set();

    public void CreateDirectory(string path) => Change(() => disk.CreateDirectory(path));

    public bool Exists(string path) => disk.Exists(path);

    public IReadOnlyList<string> Names(string directory) => disk.Names(directory);

    public IDiskFile Open(string path) => new Handle(this, disk.Open(path));

    public IDiskFile OpenShared(string path) => new Handle(this, disk.OpenShared(path));

    public IDiskFile OpenRead(string path) => disk.OpenRead(path);

    public IDiskFile CreatePrivate(string path) => new Handle(this, disk.CreatePrivate(path));

    public void Rename(string from, string to) => Change(() => disk.Rename(from, to));

    public void Delete(string path) => Change(() => disk.Delete(path));

    public void SyncDirectory(string path) => Change(() => disk.SyncDirectory(path));

    public IDisposable Lock(string path) => disk.Lock(path);

    public void Dispose() => moves.Dispose();

    private void Change(Action change)
    {
        moves.Wait();
        if (isBroken)
        {
            throw new IOException("Input/output error");
        }

        change();
    }

    private sealed class Handle(FailingDisk disk, IDiskFile file) : IDiskFile
    {
        public long Length => file.Length;

        public int Read(long offset, Span<byte> buffer) => file.Read(offset, buffer);

        public void Write(long offset, ReadOnlySpan<byte> bytes)
        {
            var copy = bytes.ToArray();
            disk.Change(() => file.Write(offset, copy));
        }

        public void SetLength(long length) => disk.Change(() => file.SetLength(length));

        public void Sync() => disk.Change(file.Sync);

        public void Dispose() => file.Dispose();
    }
}
