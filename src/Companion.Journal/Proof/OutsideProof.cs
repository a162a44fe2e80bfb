using System.Globalization;
using System.Security.Cryptography;
using Companion.Contracts;
using Companion.Journal.Format;
using Companion.Journal.Heads;
using Companion.Journal.Merkle;

namespace Companion.Journal.Proof;

/// <summary>
/// A proof that came with an export, held against what the export holds. It tells in plain words what was checked and what does not fit.
/// Pure; any thread.
/// </summary>
/// <param name="Document">The proof.</param>
/// <param name="RoomKey">The key that the watch room is known by from elsewhere: SubjectPublicKeyInfo, base64; null when none was given.</param>
public sealed record OutsideProof(ProofDocument Document, string? RoomKey = null)
{
    /// <summary>Holds it against a checked export.</summary>
    internal ProofOutcome Against(ChainVerifier export)
    {
        var outcome = new ProofOutcome();
        try
        {
            CheckHead(export, outcome);
            CheckTree(outcome);
        }
        catch (Exception cause) when (cause is FormatException or CryptographicException)
        {
            outcome.Problems.Add($"the proof cannot be read: {cause.Message}");
        }

        return outcome;
    }

    private void CheckHead(ChainVerifier export, ProofOutcome outcome)
    {
        var head = Document.Head;
        if (head is not { Chain: Chains.Tablet, Type: EntryTypes.HeadSigned })
        {
            outcome.Problems.Add("the proof holds no signed head of a tablet");
            return;
        }

        var keyId = HeadStatement.KeyId(Document.TabletKey);
        if (HeadStatement.Misfit(head, new Dictionary<string, string> { [keyId] = Document.TabletKey }) is { } misfit)
        {
            outcome.Problems.Add($"the signed head in the proof does not hold: {misfit}");
            return;
        }

        if (EntryCodec.TabletOf(head) != export.Tablet)
        {
            outcome.Problems.Add("the proof is of another tablet than the export");
            return;
        }

        CheckEnd(HeadStatement.Of(head), keyId, export, outcome);
    }

    private static void CheckEnd(HeadStatement statement, string keyId, ChainVerifier export, ProofOutcome outcome)
    {
        var (job, end) = (statement.Job, statement.Head);
        if (export.SpanOf(job) is not { } span)
        {
            outcome.Problems.Add($"the proof is of the job {job}, which is not in this file");
        }
        else if (span.Last.Sequence < end.Sequence)
        {
            outcome.Problems.Add($"the export was cut: the tablet signed {end.Sequence} entries of {job}, only {span.Last.Sequence} are here");
        }
        else if (export.HashOf(job, end.Sequence) != end.Hash)
        {
            outcome.FirstBad = new BadEntry(job, end.Sequence, "it is not the entry that the tablet signed as the end of the job: it or one before it was altered");
        }
        else
        {
            outcome.Checked.Add($"{job} up to entry {end.Sequence} is signed by the tablet's key {keyId}");
            if (span.Last.Sequence > end.Sequence)
            {
                outcome.Notes.Add($"the proof speaks of {job} up to entry {end.Sequence}: for entries {end.Sequence + 1} to {span.Last.Sequence} nobody outside the tablet vouches yet");
            }
        }
    }

    private void CheckTree(ProofOutcome outcome)
    {
        var tree = Document.TreeHead;
        var roomId = HeadStatement.KeyId(Document.RoomKey);
        if (RoomKey is not null && RoomKey != Document.RoomKey)
        {
            outcome.Problems.Add($"the proof was signed by another watch room: its key is {roomId}, not {HeadStatement.KeyId(RoomKey)}");
        }

        if (!tree.Fits(Document.RoomKey))
        {
            outcome.Problems.Add("the watch room's signature under its tree does not fit");
        }

        var leaf = MerkleHash.Leaf(Document.Head.Bytes.Span);
        if (!MerkleProof.Includes(Document.LeafIndex, tree.Size, leaf, Document.Path, Convert.FromHexString(tree.Root)))
        {
            outcome.Problems.Add("the signed head is not in the watch room's tree at the place that the proof names");
        }

        if (outcome.Problems.Count == 0 && outcome.FirstBad is null)
        {
            outcome.Checked.Add(string.Create(
                CultureInfo.InvariantCulture, $"counter-signed by the watch room (key {roomId}) at {tree.Time} as number {Document.LeafIndex + 1} of {tree.Size}"));
            outcome.Notes.Add(RoomKey is null
                ? $"the watch room's key came with the proof: compare {roomId} with what the watch room itself shows, or name its key"
                : "the proof cannot tell whether the job went on after it was made: ask the watch room for a newer one");
        }
    }
}

/// <summary>What holding a proof against an export gave. Filled by one thread.</summary>
internal sealed class ProofOutcome
{
    public BadEntry? FirstBad { get; set; }

    public List<string> Problems { get; } = [];

    public List<string> Checked { get; } = [];

    public List<string> Notes { get; } = [];
}
