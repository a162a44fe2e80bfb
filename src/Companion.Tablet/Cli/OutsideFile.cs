using Companion.Journal.Heads;
using Companion.Journal.Proof;

namespace Companion.Tablet.Cli;

/// <summary>The watch room's proof that a command line names: --proof FILE [--room KEYFILE].</summary>
internal static class OutsideFile
{
    /// <summary>The proof; null when none is named.</summary>
    /// <exception cref="UsageException">It cannot be read as one.</exception>
    public static OutsideProof? Of(Options options)
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
