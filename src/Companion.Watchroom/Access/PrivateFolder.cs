namespace Companion.Watchroom.Access;

/// <summary>Folders that only their owner may enter: names, places and keys lie in them.</summary>
internal static class PrivateFolder
{
    private const UnixFileMode OwnerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;

    /// <summary>Makes it unless it is there, and returns its path.</summary>
    public static string Make(string path)
    {
        Directory.CreateDirectory(path, OwnerOnly);
        return path;
    }
}
