using System.Runtime.InteropServices;

namespace Companion.Engine.Disk;

/// <summary>
/// fsync(2) on a directory: the base library has no call for it, and without it a new file's name can be lost in a power cut
/// although its bytes were synced. On Windows names are journalled with the file and there is nothing to do.
/// </summary>
public static partial class DirectorySync
{
    // O_RDONLY | O_DIRECTORY | O_CLOEXEC differ between processors only in O_DIRECTORY; opening read-only is enough for fsync.
    private const int ReadOnly = 0;

    /// <summary>Makes the names in a directory durable.</summary>
    /// <exception cref="IOException">The system did not sync it.</exception>
    public static void Sync(string path)
    {
        if (OperatingSystem.IsWindows())
        {
            return;
        }

        var descriptor = Open(path, ReadOnly);
        if (descriptor < 0)
        {
            throw Failure($"The folder {path} could not be opened to sync it");
        }

        try
        {
            if (Fsync(descriptor) != 0)
            {
                throw Failure($"The folder {path} could not be synced");
            }
        }
        finally
        {
            _ = Close(descriptor);
        }
    }

    private static IOException Failure(string what)
    {
        var error = Marshal.GetLastPInvokeError();
        return new IOException($"{what} ({Marshal.GetPInvokeErrorMessage(error)}).", error);
    }

    [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    private static partial int Open(string path, int flags);

    [LibraryImport("libc", EntryPoint = "fsync", SetLastError = true)]
    private static partial int Fsync(int descriptor);

    [LibraryImport("libc", EntryPoint = "close", SetLastError = true)]
    private static partial int Close(int descriptor);
}
