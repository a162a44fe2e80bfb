using System.Text;
using Companion.Contracts;
using Companion.Engine.Ports;
using Companion.Journal.Disk;
using Companion.Journal.Frames;
using Companion.Journal.Heads;
using Companion.Journal.Merkle;
using Companion.Journal.Proof;
using Companion.Simulation.Disk;
using Companion.Watchroom.Proving;

namespace Companion.Watchroom.Tests.Proving;

/// <summary>The watch room's tree of signed heads on its disk.</summary>
public sealed class HeadTreeTests : IAsyncLifetime, IDisposable
{
    private const string File = "/room/heads.tree";
    private static readonly DateTimeOffset Now = new(2026, 3, 1, 10, 0, 0, TimeSpan.Zero);
    private readonly SigningKey key = Key();
    private HeadLeaf[] leaves = [];

    public async Task InitializeAsync()
    {
        var records = await SignedRecord.OfAsync(Guid.NewGuid(), jobs: ["job-1", "job-2", "job-3"]);
        leaves = [.. records[0].TabletLines.Select(line => ExportLine.Parse(Encoding.UTF8.GetBytes(line)))
            .Where(entry => entry.Type == "head.signed").Select(entry => new HeadLeaf("tablet-1", entry))];
        Assert.Equal(6, leaves.Length);
    }

    public Task DisposeAsync() => Task.CompletedTask;

    public void Dispose() => key.Dispose();

    [Fact]
    public void What_was_added_is_proved_after_a_restart_by_the_head_of_its_own_time()
    {
        var disk = Disk();
        var first = HeadTree.Load(disk, File, key).Add(leaves[..2], Now);
        HeadTree.Load(disk, File, key).Add(leaves[2..], Now.AddHours(1));
        var tree = HeadTree.Load(disk, File, key);
        Assert.All(leaves, leaf => Assert.True(tree.Holds(leaf.Entry)));
        var proof = Proof(tree, leaves[1])!;
        Assert.Equal((1L, first), (proof.LeafIndex, proof.TreeHead));
        Assert.True(MerkleProof.Includes(1, 2, MerkleHash.Leaf(proof.Head.Bytes.Span), proof.Path, Convert.FromHexString(proof.TreeHead.Root)));
        Assert.Equal(6, tree.Head!.Size);
        var growth = tree.Growth(2)!.Value;
        Assert.True(MerkleProof.Extends(2, Convert.FromHexString(first.Root), 6, Convert.FromHexString(tree.Head.Root), growth.Path));
    }

    [Fact]
    public void A_record_that_no_head_fits_has_no_proof()
    {
        var tree = HeadTree.Load(Disk(), File, key);
        tree.Add(leaves, Now);
        Assert.Null(tree.Proof("tablet-1", "job-1", _ => new string('0', 64), _ => "key"));
        Assert.Null(tree.Proof("tablet-2", "job-1", HashOf(leaves[1]), _ => "key"));
        Assert.Null(tree.Proof("tablet-1", "job-9", HashOf(leaves[1]), _ => "key"));
    }

    // I12: whenever the power goes, what was acknowledged is there, nothing is there twice, and the tree only grew.
    [Fact]
    public void A_power_cut_at_any_write_loses_no_acknowledged_leaf_and_doubles_none()
    {
        for (var cut = 1; cut < 40; cut++)
        {
            var disk = Disk();
            SignedTreeHead? acknowledged = null;
            disk.CutAt = disk.Operations + cut;
            try
            {
                var tree = HeadTree.Load(disk, File, key);
                foreach (var leaf in leaves)
                {
                    acknowledged = tree.Add([leaf], Now);
                }
            }
            catch (Exception cause) when (cause is IOException or PowerCutException)
            {
                disk = disk.AfterCut(new Random(cut));
            }

            var after = HeadTree.Load(disk, File, key);
            Assert.True((after.Head?.Size ?? 0) >= (acknowledged?.Size ?? 0), $"cut at {cut}");
            Assert.True(acknowledged is null || after.Growth(acknowledged.Size)!.Value.FirstRoot == acknowledged.Root, $"cut at {cut}");
            if (leaves.Where(leaf => !after.Holds(leaf.Entry)).ToArray() is { Length: > 0 } missing)
            {
                after.Add(missing, Now);
            }

            Assert.Equal(leaves.Length, HeadTree.Load(disk, File, key).Head!.Size);
        }
    }

    [Fact]
    public void A_tree_altered_on_the_disk_is_not_gone_on_with()
    {
        var disk = Disk();
        var tree = HeadTree.Load(disk, File, key);
        tree.Add(leaves[..3], Now);
        tree.Add(leaves[3..], Now);

        var flipped = disk.Copy();
        flipped.Damage(File, bytes => bytes[40] ^= 1);
        Assert.Throws<FormatException>(() => HeadTree.Load(flipped, File, key));

        // A leaf put in place of another, with a checksum that fits: the signed root does not.
        var frames = Frames(disk);
        var lines = EntryBatch.Split(frames[0]).ToList();
        var forged = disk.Copy();
        FrameFile.WriteNew(forged, File, [Joined([lines[1], lines[0], .. lines.Skip(2)]), frames[1]]);
        Assert.Contains("not what was signed", Assert.Throws<FormatException>(() => HeadTree.Load(forged, File, key)).Message);

        // Without the signed heads nothing vouches for the leaves.
        var stripped = disk.Copy();
        FrameFile.WriteNew(stripped, File, [Joined([.. lines.SkipLast(1)])]);
        Assert.Throws<FormatException>(() => HeadTree.Load(stripped, File, key));

        using var other = Key();
        Assert.Contains("another key", Assert.Throws<FormatException>(() => HeadTree.Load(disk, File, other)).Message);
    }

    private static SimulatedDisk Disk()
    {
        var disk = new SimulatedDisk();
        disk.CreateDirectory("/room");
        disk.SyncDirectory("/");
        return disk;
    }

    private static SigningKey Key()
    {
        var disk = Disk();
        return SigningKey.Create(disk, "/room/tree.key");
    }

    private static ProofDocument? Proof(HeadTree tree, HeadLeaf leaf) => tree.Proof(leaf.Device, leaf.Job, HashOf(leaf), _ => "key");

    private static Func<long, string?> HashOf(HeadLeaf leaf) => sequence => sequence == leaf.End.Sequence ? leaf.End.Hash : null;

    private static List<byte[]> Frames(IDisk disk)
    {
        using var file = disk.OpenRead(File);
        return [.. new FrameReader(file).Whole()];
    }

    private static ReadOnlyMemory<byte> Joined(IReadOnlyList<ReadOnlyMemory<byte>> lines) =>
        Encoding.UTF8.GetBytes(string.Join('\n', lines.Select(line => Encoding.UTF8.GetString(line.Span))));
}
