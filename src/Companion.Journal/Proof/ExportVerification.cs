using Companion.Contracts;
using Companion.Journal.Disk;
using Companion.Journal.Format;

namespace Companion.Journal.Proof;

/// <summary>Checks an exported file line by line. One thread.</summary>
internal static class ExportVerification
{
    private const int BufferLength = 1 << 16;

    /// <summary>Checks the file.</summary>
    public static VerifyReport Run(IDisk disk, string path)
    {
        using var file = disk.OpenRead(path);
        var verifier = new ChainVerifier();
        var hasTablet = false;
        var problems = new List<string>();
        foreach (var (line, ended) in Lines(file))
        {
            hasTablet |= EntryCodec.ClaimedPlace(line)?.Chain == Chains.Tablet;
            if (!TakeLine(verifier, line))
            {
                break;
            }

            if (!ended)
            {
                problems.Add("the last line has no end: the file was cut off");
            }
        }

        if (verifier is { Entries: 0, FirstBad: null })
        {
            problems.Add("the file holds no entry");
        }

        var notes = verifier.Notes.ToList();
        if (!hasTablet)
        {
            notes.Add("the tablet's chain is not in this file: whether entries are missing at the end cannot be told from it");
        }

        if (verifier.FirstBad is null)
        {
            problems.AddRange(verifier.MissingEnds());
        }

        return new VerifyReport(verifier.Entries, verifier.ChainCount, verifier.FirstBad, problems, notes);
    }

    private static bool TakeLine(ChainVerifier verifier, byte[] line)
    {
        try
        {
            return verifier.Take(ExportLine.Open(line).Entry);
        }
        catch (FormatException cause)
        {
            return verifier.Refuse(line, cause.Message);
        }
    }

    private static IEnumerable<(byte[] Line, bool Ended)> Lines(IDiskFile file)
    {
        var pending = new List<byte>();
        var buffer = new byte[BufferLength];
        for (var offset = 0L; offset < file.Length; offset += buffer.Length)
        {
            var read = file.Read(offset, buffer);
            var start = 0;
            while (Array.IndexOf(buffer, (byte)'\n', start, read - start) is >= 0 and var end)
            {
                pending.AddRange(buffer.AsSpan(start, end - start));
                yield return ([.. pending], true);
                pending.Clear();
                start = end + 1;
            }

            pending.AddRange(buffer.AsSpan(start, read - start));
        }

        if (pending.Count > 0)
        {
            yield return ([.. pending], false);
        }
    }
}
