using Companion.Contracts;
using Companion.Journal.Disk;
using Companion.Journal.Heads;
using Companion.Journal.Merkle;
using Companion.Journal.Proof;
using Companion.Simulation.Disk;

namespace Companion.Journal.Tests.Support;

/// <summary>A job of a small store, its export, and the proof of a watch room that holds other tablets' heads too.</summary>
public sealed class ProvedJob
{
    public const string Job = "job-1";

    private const string ExportPath = "/export.ndjson";

    private ProvedJob(SimulatedDisk disk, ProofDocument document) => (Disk, Document) = (disk, document);

    public SimulatedDisk Disk { get; }

    public ProofDocument Document { get; }

    /// <summary>The job with the head that was signed at its end, or with one of those before.</summary>
    public static async Task<ProvedJob> Make(int others = 5, bool last = true)
    {
        var disk = await Stores.Small();
        await using var store = await Stores.Open(disk.Copy());
        var tablet = store.Read(Chains.Tablet);
        var heads = tablet.Where(entry => entry.Type == EntryTypes.HeadSigned && HeadStatement.Of(entry).Job == Job).ToList();
        var head = last ? heads[^1] : heads[0];
        var tree = new MerkleTree();
        for (var n = 0; n < others; n++)
        {
            tree.Add(MerkleHash.Leaf([(byte)n]));
        }

        var index = tree.Add(MerkleHash.Leaf(head.Bytes.Span));
        tree.Add(MerkleHash.Leaf("the next tablet's"u8));
        using var key = RoomKey();
        var document = new ProofDocument(
            head, HeadStatement.PublicKeyIn(tablet[0])!, index, tree.InclusionPath(index, tree.Size),
            SignedTreeHead.Sign(key, tree.Size, tree.Root(), FixedClock.Start), key.PublicKey);
        return new ProvedJob(disk, document);
    }

    /// <summary>A watch room's key.</summary>
    public static SigningKey RoomKey()
    {
        var disk = new SimulatedDisk();
        disk.CreateDirectory("/room");
        return SigningKey.Create(disk, "/room/tree.key");
    }

    /// <summary>The lines of the job's export.</summary>
    public string[] Lines()
    {
        using var output = new MemoryStream();
        JournalExport.Write(Stores.Folder, output, Job, disk: Disk);
        return System.Text.Encoding.UTF8.GetString(output.ToArray()).TrimEnd('\n').Split('\n');
    }

    /// <summary>Verifies an export of these lines with a proof.</summary>
    public static VerifyReport Verify(IEnumerable<string> lines, ProofDocument? document, string? roomKey = null)
    {
        var disk = new SimulatedDisk();
        disk.Put(ExportPath, System.Text.Encoding.UTF8.GetBytes(string.Concat(lines.Select(line => line + "\n"))));
        return JournalVerifier.Verify(ExportPath, disk, document is null ? null : new OutsideProof(document, roomKey));
    }
}
