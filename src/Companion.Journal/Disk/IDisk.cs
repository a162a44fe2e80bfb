namespace Companion.Journal.Disk;

/// <summary>
/// The file system as the journal needs it, so that tests can cut the power. Every call is synchronous; failures throw
/// <see cref="IOException"/>. Names made by Open, Rename and CreateDirectory are durable only after <see cref="SyncDirectory"/>.
/// </summary>
public interface IDisk
{
    /// <summary>Makes a directory (and its parents) unless it is there.</summary>
    void CreateDirectory(string path);

    /// <summary>True when a file or directory of that name exists.</summary>
    bool Exists(string path);

    /// <summary>Names (without path) of the files and directories in a directory, sorted.</summary>
    IReadOnlyList<string> Names(string directory);

    /// <summary>Opens a file for the one writer and nobody else, making it when missing.</summary>
    IDiskFile Open(string path);

    /// <summary>Opens a file for the one writer, making it when missing; others may read it meanwhile.</summary>
    IDiskFile OpenShared(string path);

    /// <summary>Opens an existing file for reading, also while a writer appends to it.</summary>
    IDiskFile OpenRead(string path);

    /// <summary>Makes a file that only its owner may read (mode 0600) and opens it.</summary>
    IDiskFile CreatePrivate(string path);

    /// <summary>Renames a file or directory; a file in the way is replaced.</summary>
    void Rename(string from, string to);

    /// <summary>Removes a file.</summary>
    void Delete(string path);

    /// <summary>Makes the names in a directory durable.</summary>
    void SyncDirectory(string path);

    /// <summary>Takes the exclusive lock of that name, against this process and others; throws when it is taken.</summary>
    IDisposable Lock(string path);
}
