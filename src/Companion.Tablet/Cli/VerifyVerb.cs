using Companion.Journal.Proof;

namespace Companion.Tablet.Cli;

/// <summary>
/// verify [--store DIR], or verify FILE.ndjson [--proof FILE] [--room KEYFILE]: checks chains, witness, signatures and a watch room's proof,
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
        var path = (options.Words, options["store"]) switch
        {
            ([], var store) => store ?? Places.Store,
            ([var file], null) => file,
            _ => throw new UsageException("verify takes one file, or --store DIR."),
        };
        if (options.Words.Count == 0 && options["proof"] is not null)
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
