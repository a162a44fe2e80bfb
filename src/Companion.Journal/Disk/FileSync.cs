using System.Runtime.InteropServices;
using Microsoft.Win32.SafeHandles;

namespace Companion.Journal.Disk;

/// <summary>
/// fsync(2) on a file, with every failure told. The base library takes EROFS, EINVAL and ENOTSUP for success: on a file system that
/// turned read-only after an error, an append would be acknowledged whose bytes never reached the disk.
/// </summary>
internal static partial class FileSync
{
    private const int Interrupted = 4;

    /// <summary>Returns when the bytes are durable; throws <see cref="IOException"/> with the system's error number otherwise.</summary>
    public static void Sync(SafeFileHandle handle)
    {
        if (!OperatingSystem.IsLinux())
        {
            RandomAccess.FlushToDisk(handle);
            return;
        }

        while (Fsync(handle) != 0)
        {
            var error = Marshal.GetLastPInvokeError();
            if (error != Interrupted)
            {
                throw new IOException($"A file could not be synced ({Marshal.GetPInvokeErrorMessage(error)}).", error);
            }
        }
    }

    [LibraryImport("libc", EntryPoint = "fsync", SetLastError = true)]
    private static partial int Fsync(SafeFileHandle handle);
}
