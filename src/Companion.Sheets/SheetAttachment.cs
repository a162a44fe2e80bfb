namespace Companion.Sheets;

/// <summary>The source document that lies beside a sheet as a PDF file.</summary>
public static class SheetAttachment
{
    /// <summary>Largest document in bytes: 20 MB. A tablet at the roadside shows the pages that are needed, not a library.</summary>
    public const long MostBytes = 20_000_000;

    /// <summary>How every PDF file begins (ISO 32000).</summary>
    private static readonly byte[] Mark = "%PDF-"u8.ToArray();

    /// <summary>What is wrong with the document and how to mend it; null when it may be shown.</summary>
    /// <param name="folder">The folder of the sheet.</param>
    /// <param name="name">The name that the sheet gives.</param>
    public static string? Fault(string folder, string name)
    {
        if (!IsPlain(name))
        {
            return $"'{name}' is not a plain file name. Put the document beside the sheet and give its name alone.";
        }

        try
        {
            var file = new FileInfo(Path.Combine(folder, name));
            return !file.Exists || file.LinkTarget is not null
                ? $"There is no file '{name}' beside the sheet. Put it there, or take the attachment out."
                : file.Length >= MostBytes
                    ? $"'{name}' has {MostBytes / 1_000_000} MB or more. Attach only the pages that belong to this vehicle."
                : IsPdf(file) ? null
                : $"'{name}' is no PDF file: it does not begin with %PDF-. Attach the document as a PDF.";
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return $"'{name}' cannot be read ({fault.Message}). Check that you may read it.";
        }
    }

    /// <summary>True for a name that stays in its folder, whoever wrote it.</summary>
    private static bool IsPlain(string name) =>
        name.Length > 0 && name[0] != '.' && name.All(letter => char.IsAsciiLetterOrDigit(letter) || letter is '.' or '_' or '-');

    private static bool IsPdf(FileInfo file)
    {
        using var stream = file.OpenRead();
        var begin = new byte[Mark.Length];
        return stream.ReadAtLeast(begin, begin.Length, throwOnEndOfStream: false) == Mark.Length && begin.AsSpan().SequenceEqual(Mark);
    }
}
