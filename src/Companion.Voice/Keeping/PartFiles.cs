using Companion.Domain.Sound;

namespace Companion.Voice.Keeping;

/// <summary>The disk under recorded sound. Files and folders are their owner's alone. Any thread.</summary>
/// <param name="store">The store's folder.</param>
public class PartFiles(string store)
{
    /// <summary>With less room than this no part is begun: what is left belongs to the journal.</summary>
    public const long LeastRoom = 256L * 1024 * 1024;

    private const UnixFileMode OwnerFile = UnixFileMode.UserRead | UnixFileMode.UserWrite;

    private const UnixFileMode OwnerFolder = OwnerFile | UnixFileMode.UserExecute;

    /// <summary>Bytes that may still be written.</summary>
    /// <exception cref="IOException">The disk does not tell.</exception>
    public virtual long Room() => new DriveInfo(store).AvailableFreeSpace;

    /// <summary>The folder of a job's sound, made when it is not there.</summary>
    public string FolderOf(string job)
    {
        Directory.CreateDirectory(SoundFolder.Of(store), OwnerFolder);
        return Directory.CreateDirectory(SoundFolder.Of(store, job), OwnerFolder).FullName;
    }

    /// <summary>The folder of a job's sound as it would be called; it need not be there.</summary>
    public string PlaceOf(string job) => SoundFolder.Of(store, job);

    /// <summary>The folders of all jobs that have sound.</summary>
    public IReadOnlyList<string> Folders() => Directory.Exists(SoundFolder.Of(store)) ? Directory.GetDirectories(SoundFolder.Of(store)) : [];

    /// <summary>A new file. What is written is with the system at once, so that a kill of the process loses nothing of it.</summary>
    public virtual Stream Create(string path) => new FileStream(path, new FileStreamOptions
    {
        Mode = FileMode.CreateNew,
        Access = FileAccess.ReadWrite,
        Share = FileShare.Read,
        BufferSize = 0,
        UnixCreateMode = OwnerFile,
    });
}
