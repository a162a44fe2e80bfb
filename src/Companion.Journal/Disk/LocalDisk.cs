using Companion.Engine.Disk;
namespace Companion.Journal.Disk;

/// <summary>The tablet's own file system. Callable from any thread.</summary>
public sealed class LocalDisk : IDisk
{
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    /// <inheritdoc/>
    public void CreateDirectory(string path) => Directory.CreateDirectory(path);

    /// <inheritdoc/>
    public bool Exists(string path) => Path.Exists(path);

    /// <inheritdoc/>
    public IReadOnlyList<string> Names(string directory) => !Directory.Exists(directory)
        ? []
        : [.. Directory.EnumerateFileSystemEntries(directory).Select(p => Path.GetFileName(p)).Order(StringComparer.Ordinal)];

    /// <inheritdoc/>
    public IDiskFile Open(string path) =>
        new LocalDiskFile(File.OpenHandle(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));

    /// <inheritdoc/>
    public IDiskFile OpenShared(string path) =>
        new LocalDiskFile(File.OpenHandle(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.Read));

    /// <inheritdoc/>
    public IDiskFile OpenRead(string path) =>
        new LocalDiskFile(File.OpenHandle(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite));

    /// <inheritdoc/>
    public IDiskFile CreatePrivate(string path)
    {
        var options = new FileStreamOptions
        {
            Mode = FileMode.CreateNew,
            Access = FileAccess.ReadWrite,
            Share = FileShare.None,
            BufferSize = 0,
        };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = OwnerOnly;
        }

        using (new FileStream(path, options))
        {
        }

        return Open(path);
    }

    /// <inheritdoc/>
    public void Rename(string from, string to)
    {
        if (Directory.Exists(from))
        {
            Directory.Move(from, to);
        }
        else
        {
            File.Move(from, to, overwrite: true);
        }
    }

    /// <inheritdoc/>
    public void Delete(string path) => File.Delete(path);

    /// <inheritdoc/>
    public void SyncDirectory(string path) => DirectorySync.Sync(path);

    /// <inheritdoc/>
    public IDisposable Lock(string path) => new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
}
