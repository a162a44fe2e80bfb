using System.Globalization;
using Companion.Contracts;
using Companion.Journal.Disk;

namespace Companion.Journal.Proof;

/// <summary>Checks an exported file line by line. One thread.</summary>
internal static class ExportVerification
{
    private const int BufferLength = 1 << 16;

    /// <summary>Chains whose ends are told one by one; of more only the number is told.</summary>
    private const int MostChainsTold = 12;

    /// <summary>Checks the file, and the proof that came with it.</summary>
    public static VerifyReport Run(IDisk disk, string path, OutsideProof? proof)
    {
        using var file = disk.OpenRead(path);
        var verifier = new ChainVerifier();
        var problems = new List<string>();
        foreach (var (line, ended) in Lines(file))
        {
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
        if (verifier.SpanOf(Chains.Tablet) is null && proof is null)
        {
            notes.Add("the tablet's chain is not in this file: whether entries are missing at the end cannot be told from it");
        }

        notes.AddRange(proof is null ? ["no proof of a watch room was given: nobody outside the tablet vouches for this record"] : Array.Empty<string>());
        if (verifier.FirstBad is not null)
        {
            return new VerifyReport(verifier.Entries, verifier.ChainCount, verifier.FirstBad, problems, notes);
        }

        problems.AddRange(verifier.MissingEnds());
        var outcome = proof?.Against(verifier) ?? new ProofOutcome();
        return new VerifyReport(
            verifier.Entries, verifier.ChainCount, outcome.FirstBad, [.. problems, .. outcome.Problems], [.. notes, .. outcome.Notes])
        {
            Checked = [.. Ends(verifier), .. outcome.Checked],
        };
    }

    private static IEnumerable<string> Ends(ChainVerifier verifier) => verifier.ChainCount > MostChainsTold
        ? [$"{verifier.ChainCount} chains are whole, each from its first entry to its last here"]
        : verifier.Spans.Select(span => string.Create(
            CultureInfo.InvariantCulture,
            $"{span.First.Chain} is whole from entry {span.First.Sequence} ({span.First.Time:yyyy-MM-dd HH:mm:ss zzz}) to entry {span.Last.Sequence} ({span.Last.Time:yyyy-MM-dd HH:mm:ss zzz}, {span.Last.Type})"));

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
