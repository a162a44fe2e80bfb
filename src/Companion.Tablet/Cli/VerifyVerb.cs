using Companion.Journal.Proof;

namespace Companion.Tablet.Cli;

/// <summary>verify --store DIR, or verify FILE.ndjson: checks chains, witness and signatures, read-only.</summary>
public static class VerifyVerb
{
    /// <summary>Prints what was found; 0 when sound, 1 when not.</summary>
    public static int Run(Options options)
    {
        options.Only("store");
        var path = options["store"] ?? (options.Words.Count == 1 ? options.Words[0] : throw new UsageException("verify needs --store DIR or a file."));
        var report = JournalVerifier.Verify(path);
        foreach (var line in report.Lines())
        {
            Console.WriteLine(line);
        }

        return report.ExitCode;
    }
}
