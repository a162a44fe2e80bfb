using System.Text;
using System.Text.Json;
using Companion.Contracts;
using Companion.Journal.Disk;
using Companion.Journal.Heads;
using Companion.Journal.Linking;
using Companion.Journal.Merkle;
using Companion.Journal.Proof;
using Companion.Watchroom.Receiving;

namespace Companion.Watchroom.Proving;

/// <summary>
/// The tree of all heads that tablets signed, in a file that only grows. New leaves and the signed head of the tree over them are one frame:
/// both are durable, or neither is. Every signed head is held against the leaves when the file is read. Used by one thread at a time.
/// </summary>
internal sealed class HeadTree
{
    private const byte OpenBrace = (byte)'{';

    /// <summary>Most leaves of one frame.</summary>
    public const int MostAtOnce = 1000;

    private readonly MerkleTree tree = new();
    private readonly LineLog log;
    private readonly IHeadSigner signer;
    private readonly List<SignedTreeHead> heads = [];
    private readonly HashSet<string> known = [];
    private readonly Dictionary<(string Device, string Job), List<(long Index, ChainHead End)>> places = [];

    private HeadTree(IDisk disk, string path, IHeadSigner signer) => (log, this.signer) = (new LineLog(disk, path), signer);

    /// <summary>The newest signed head; null while there is no leaf.</summary>
    public SignedTreeHead? Head => heads.Count > 0 ? heads[^1] : null;

    /// <summary>Reads and checks the file.</summary>
    /// <exception cref="FormatException">It does not hold what was signed, or another key signed it.</exception>
    /// <exception cref="IOException">The disk fails.</exception>
    public static HeadTree Load(IDisk disk, string path, IHeadSigner signer)
    {
        var loaded = new HeadTree(disk, path, signer);
        loaded.log.Load(loaded.Take);
        if (loaded.log.IsDamaged || (loaded.Head?.Size ?? 0) != loaded.tree.Size)
        {
            throw new FormatException("bytes in the middle of the file are missing or do not fit their checksum");
        }

        return loaded.Head is { } head && !head.Fits(signer.PublicKey)
            ? throw new FormatException("its newest head was signed with another key")
            : loaded;
    }

    /// <summary>True when a head is a leaf already.</summary>
    public bool Holds(JournalEntry head) => known.Contains(head.Hash);

    /// <summary>Adds heads that are not held and signs the tree, durably.</summary>
    public SignedTreeHead Add(IReadOnlyList<HeadLeaf> leaves, DateTimeOffset now)
    {
        // Signed before it is written: a copy of the tree tells the root that the leaves will give.
        log.Settle();
        var root = RootWith(leaves);
        var head = SignedTreeHead.Sign(signer, tree.Size + leaves.Count, root, now);
        log.Append([.. leaves.Select(leaf => leaf.Line()), Line(head)]);
        foreach (var leaf in leaves)
        {
            Take(leaf);
        }

        heads.Add(head);
        return head;
    }

    /// <summary>The proof of the newest head of a job that a record fits; null when there is none.</summary>
    /// <param name="device">The tablet.</param>
    /// <param name="job">The job.</param>
    /// <param name="hashOf">The hash of an entry of the record; null for one that it lacks.</param>
    /// <param name="keyOf">The public key by which an entry was signed.</param>
    public ProofDocument? Proof(string device, string job, Func<long, string?> hashOf, Func<JournalEntry, string?> keyOf)
    {
        var fitting = places.GetValueOrDefault((device, job))?.FindLast(place => hashOf(place.End.Sequence) == place.End.Hash);
        if (fitting is not { End.Sequence: > 0 } place)
        {
            return null;
        }

        // The first head over the leaf is the one that says since when it has been vouched for.
        var covering = heads[FirstOver(place.Index)];
        var entry = HeadLeaf.Of(log.Lines().Where(IsLeaf).ElementAt((int)place.Index)).Entry;
        return keyOf(entry) is { } tabletKey
            ? new ProofDocument(entry, tabletKey, place.Index, tree.InclusionPath(place.Index, covering.Size), covering, signer.PublicKey)
            : null;
    }

    /// <summary>What shows that the tree only grew since it had so many leaves; null when it never had.</summary>
    public (string FirstRoot, IReadOnlyList<byte[]> Path)? Growth(long first) => first < 1 || first > tree.Size
        ? null
        : (Convert.ToHexStringLower(tree.Root(first)), tree.ConsistencyPath(first, tree.Size));

    private static bool IsLeaf(ReadOnlyMemory<byte> line) => line.Span[0] != OpenBrace;

    private static ReadOnlyMemory<byte> Line(SignedTreeHead head) => JsonSerializer.SerializeToUtf8Bytes(head);

    private int FirstOver(long index)
    {
        var at = heads.BinarySearch(
            new SignedTreeHead(index + 1, string.Empty, string.Empty, string.Empty), Comparer<SignedTreeHead>.Create((one, other) => one.Size.CompareTo(other.Size)));
        return at < 0 ? ~at : at;
    }

    private byte[] RootWith(IReadOnlyList<HeadLeaf> leaves)
    {
        var hashes = leaves.Select(leaf => MerkleHash.Leaf(leaf.Entry.Bytes.Span));
        return tree.RootWith([.. hashes]);
    }

    private void Take(ReadOnlyMemory<byte> line)
    {
        if (IsLeaf(line))
        {
            Take(HeadLeaf.Of(line));
            return;
        }

        var head = Parse(line);
        if (head.Size != tree.Size || head.Root != Convert.ToHexStringLower(tree.Root()))
        {
            throw new FormatException($"what it held at number {head.Size} is not what was signed then");
        }

        heads.Add(head);
    }

    private void Take(HeadLeaf leaf)
    {
        var index = tree.Add(MerkleHash.Leaf(leaf.Entry.Bytes.Span));
        known.Add(leaf.Entry.Hash);
        if (!places.TryGetValue((leaf.Device, leaf.Job), out var ofJob))
        {
            places.Add((leaf.Device, leaf.Job), ofJob = []);
        }

        ofJob.Add((index, leaf.End));
    }

    private static SignedTreeHead Parse(ReadOnlyMemory<byte> line)
    {
        try
        {
            return JsonSerializer.Deserialize<SignedTreeHead>(line.Span) ?? throw new FormatException("a signed head is missing");
        }
        catch (JsonException cause)
        {
            throw new FormatException($"a signed head cannot be read ({cause.Message}) in {Encoding.UTF8.GetString(line.Span)}", cause);
        }
    }
}
