using System.Security.Cryptography;
using Companion.Domain.Sheets;

namespace Companion.Tablet.Importing;

/// <summary>A sound sheet in its file.</summary>
/// <param name="Path">The YAML file.</param>
/// <param name="Sheet">What it says.</param>
public sealed record SheetFile(string Path, Sheet Sheet)
{
    /// <summary>The document beside it; null when it names none.</summary>
    public string? AttachmentPath => Sheet.Source.Attachment is { } name
        ? System.IO.Path.Combine(System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(Path))!, name)
        : null;

    /// <summary>SHA-256 of the document as lower-case hex; null when the sheet names none.</summary>
    public string? AttachmentDigest() => AttachmentPath is { } path ? DigestOf(path) : null;

    /// <summary>SHA-256 of any file as lower-case hex.</summary>
    public static string DigestOf(string path)
    {
        using var stream = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(stream));
    }
}
