using Companion.Journal.Proof;

namespace Companion.Tablet.Cli;

/// <summary>
/// verify --store DIR, or verify FILE.ndjson [--proof FILE] [--room KEYFILE]: checks chains, witness, signatures and a watch room's proof,
/// read-only and without any network.
/// </summary>
public static class VerifyVerb
{
    /// <summary>Prints what was checked and what was found; 0 when sound, 1 when not.</summary>
    public static int Run(Options options) => Run(options, Console.Out);

    /// <summary>The same, with its output.</summary>
    public static int Run(Options options, TextWriter output)
    {
        options.Only("store", "proof", "room");
        var path = options["store"] ?? (options.Words.Count == 1 ? options.Words[0] : throw new UsageException("verify needs --store DIR or a file."));
        if (options["store"] is not null && options["proof"] is not null)
        {
            throw new UsageException("--proof goes with an exported file, not with a store.");
        }

        var report = JournalVerifier.Verify(path, proof: OutsideFile.Of(options));
        foreach (var line in report.Lines())
        {
            output.WriteLine(line);
        }

        return report.ExitCode;
    }
}
