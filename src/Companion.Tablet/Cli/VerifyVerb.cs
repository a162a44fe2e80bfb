using Companion.Journal.Heads;
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

        var report = JournalVerifier.Verify(path, proof: ProofOf(options));
        foreach (var line in report.Lines())
        {
            output.WriteLine(line);
        }

        return report.ExitCode;
    }

    private static OutsideProof? ProofOf(Options options)
    {
        if (options["proof"] is not { } path)
        {
            return options["room"] is null ? null : throw new UsageException("--room goes with --proof.");
        }

        try
        {
            return new OutsideProof(ProofDocument.Parse(File.ReadAllBytes(path)), options["room"] is { } key ? KeyIn(key) : null);
        }
        catch (FormatException cause)
        {
            throw new UsageException($"{path} is no proof: {cause.Message}. Fetch it from the watch room again.");
        }
    }

    private static string KeyIn(string path) =>
        P256.PublicKeyIn(File.ReadAllText(path)) ?? throw new UsageException($"{path} holds no public key. It is what `watchroom proof-key` prints.");
}
