using System.Text;
using Companion.Engine.Disk;

namespace Companion.Uplink;

/// <summary>
/// A small text file that is replaced whole: written beside, synced, renamed over the old one, and its folder synced: a key or a pairing
/// that was told as kept is there after a power cut.
/// </summary>
internal static class DurableText
{
    /// <summary>The text; null when there is no file.</summary>
    public static string? Read(string path) => File.Exists(path) ? File.ReadAllText(path) : null;

    /// <summary>Replaces it; only its owner may read it.</summary>
    public static void Write(string path, string text)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        var beside = $"{path}.new";
        using (var file = new FileStream(beside, new FileStreamOptions
        {
            Mode = FileMode.Create,
            Access = FileAccess.Write,
            UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite,
        }))
        {
            file.Write(Encoding.UTF8.GetBytes(text));
            file.Flush(true);
        }

        File.Move(beside, path, overwrite: true);
        DirectorySync.Sync(Path.GetDirectoryName(path)!);
    }
}
