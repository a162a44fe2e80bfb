using Companion.Journal.Merkle;
using CsCheck;

namespace Companion.Journal.Tests.Proving;

public sealed class MerkleTreeTests
{
    // The reference leaves of RFC 6962's own log implementation, and its roots, as the check values give them.
    private static readonly string[] Reference =
        ["", "00", "10", "2021", "3031", "40414243", "5051525354555657", "606162636465666768696a6b6c6d6e6f"];

    [Theory]
    [InlineData(1, "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d")]
    [InlineData(2, "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125")]
    [InlineData(3, "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77")]
    [InlineData(8, "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328")]
    public void The_roots_are_those_of_the_reference_leaves_of_RFC_6962(int leaves, string root)
    {
        var tree = TreeOf([.. Reference.Select(leaf => MerkleHash.Leaf(Convert.FromHexString(leaf)))]);
        Assert.Equal(root, Convert.ToHexStringLower(tree.Root(leaves)));
    }

    // RFC 6962, section 2.1: the hash of an empty list is the hash of an empty string. FIPS 180-4 gives that hash.
    [Fact]
    public void The_root_of_nothing_is_the_hash_of_nothing() => Assert.Equal(
        "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", Convert.ToHexStringLower(new MerkleTree().Root()));

    // RFC 6962, section 2.1.3, draws a tree of seven leaves, names its nodes by letters, and gives these paths.
    [Theory]
    [InlineData(0, "b h l")]
    [InlineData(3, "c g l")]
    [InlineData(4, "f j k")]
    [InlineData(6, "i k")]
    public void The_audit_paths_are_those_of_the_example_in_RFC_6962(int leaf, string path)
    {
        var (tree, nodes) = Example();
        Assert.Equal(Named(path, nodes), tree.InclusionPath(leaf, 7).Select(Convert.ToHexStringLower));
    }

    // RFC 6962, section 2.1.3: the proofs between the tree of seven leaves and itself at three, four and six.
    [Theory]
    [InlineData(3, "c d g l")]
    [InlineData(4, "l")]
    [InlineData(6, "i j k")]
    public void The_consistency_proofs_are_those_of_the_example_in_RFC_6962(int first, string path)
    {
        var (tree, nodes) = Example();
        Assert.Equal(Named(path, nodes), tree.ConsistencyPath(first, 7).Select(Convert.ToHexStringLower));
    }

    [Fact]
    public void Roots_and_paths_of_any_size_are_those_of_the_recursive_definition() => Sized.Sample(
        size =>
        {
            var leaves = Leaves(size);
            var tree = TreeOf(leaves);
            Assert.Equal(Root(leaves), tree.Root());
            var index = size / 3;
            Assert.Equal(Path(index, leaves), tree.InclusionPath(index, size));
            Assert.Equal(Consistency(index + 1, leaves, whole: true), tree.ConsistencyPath(index + 1, size));
            Assert.Equal(Root(leaves[..(index + 1)]), tree.Root(index + 1));
            Assert.Equal(Root(leaves), TreeOf(leaves[..index]).RootWith(leaves[index..]));
        },
        iter: 60);

    [Fact]
    public void Every_leaf_of_every_small_tree_is_proved_and_no_other_place_or_root_is()
    {
        for (var size = 1; size <= 20; size++)
        {
            var leaves = Leaves(size);
            var tree = TreeOf(leaves);
            for (var index = 0; index < size; index++)
            {
                var path = tree.InclusionPath(index, size);
                Assert.True(MerkleProof.Includes(index, size, leaves[index], path, tree.Root()));
                Assert.False(MerkleProof.Includes(index, size, MerkleHash.Leaf([9]), path, tree.Root()));
                Assert.False(MerkleProof.Includes(index, size, leaves[index], path, MerkleHash.Empty));
                Assert.False(MerkleProof.Includes(index, size, leaves[index], [.. path, leaves[0]], tree.Root()));
                Assert.False(size > 1 && MerkleProof.Includes(index, size, leaves[index], [.. path.Skip(1)], tree.Root()));
                Assert.False(size > 1 && MerkleProof.Includes((index + 1) % size, size, leaves[index], path, tree.Root()));
                Assert.False(MerkleProof.Includes(size, size, leaves[index], path, tree.Root()));
            }
        }
    }

    [Fact]
    public void Every_growth_of_every_small_tree_is_proved_and_an_altered_past_is_not()
    {
        for (var second = 1; second <= 20; second++)
        {
            var leaves = Leaves(second);
            var tree = TreeOf(leaves);
            for (var first = 1; first <= second; first++)
            {
                var path = tree.ConsistencyPath(first, second);
                Assert.True(MerkleProof.Extends(first, tree.Root(first), second, tree.Root(), path), $"{first} in {second}");
                for (var altered = 0; altered < first; altered++)
                {
                    var other = TreeOf([.. leaves.Select((leaf, at) => at == altered ? MerkleHash.Leaf([1, 2, 3]) : leaf)]);
                    Assert.False(MerkleProof.Extends(first, tree.Root(first), second, other.Root(), other.ConsistencyPath(first, second)), $"{altered} of {first} in {second}");
                }

                Assert.False(MerkleProof.Extends(first, tree.Root(first), second, tree.Root(), [.. path, leaves[0]]));
                Assert.False(path.Count > 0 && MerkleProof.Extends(first, tree.Root(first), second, tree.Root(), [.. path.SkipLast(1)]));
            }
        }
    }

    private static Gen<int> Sized => Gen.Int[1, 600];

    private static byte[][] Leaves(int count) => [.. Enumerable.Range(0, count).Select(n => MerkleHash.Leaf(BitConverter.GetBytes(n)))];

    private static MerkleTree TreeOf(byte[][] leaves)
    {
        var tree = new MerkleTree();
        foreach (var leaf in leaves)
        {
            tree.Add(leaf);
        }

        return tree;
    }

    /// <summary>The tree of seven leaves of the example, with its nodes by the RFC's letters.</summary>
    private static (MerkleTree Tree, Dictionary<string, string> Nodes) Example()
    {
        var d = Leaves(7);
        var (g, h, i) = (MerkleHash.Node(d[0], d[1]), MerkleHash.Node(d[2], d[3]), MerkleHash.Node(d[4], d[5]));
        var nodes = new Dictionary<string, byte[]>
        {
            ["a"] = d[0], ["b"] = d[1], ["c"] = d[2], ["d"] = d[3], ["e"] = d[4], ["f"] = d[5], ["j"] = d[6],
            ["g"] = g, ["h"] = h, ["i"] = i, ["k"] = MerkleHash.Node(g, h), ["l"] = MerkleHash.Node(i, d[6]),
        };
        return (TreeOf(d), nodes.ToDictionary(node => node.Key, node => Convert.ToHexStringLower(node.Value)));
    }

    private static IEnumerable<string> Named(string path, Dictionary<string, string> nodes) => path.Split(' ').Select(name => nodes[name]);

    // RFC 6962, sections 2.1, 2.1.1 and 2.1.2, word by word.
    private static byte[] Root(byte[][] d) => d.Length switch
    {
        0 => MerkleHash.Empty,
        1 => d[0],
        _ => MerkleHash.Node(Root(d[..Split(d.Length)]), Root(d[Split(d.Length)..])),
    };

    private static byte[][] Path(int m, byte[][] d)
    {
        if (d.Length == 1)
        {
            return [];
        }

        var k = Split(d.Length);
        return m < k ? [.. Path(m, d[..k]), Root(d[k..])] : [.. Path(m - k, d[k..]), Root(d[..k])];
    }

    private static byte[][] Consistency(int m, byte[][] d, bool whole)
    {
        if (m == d.Length)
        {
            return whole ? [] : [Root(d)];
        }

        var k = Split(d.Length);
        return m <= k ? [.. Consistency(m, d[..k], whole), Root(d[k..])] : [.. Consistency(m - k, d[k..], false), Root(d[..k])];
    }

    private static int Split(int size)
    {
        var k = 1;
        while (k * 2 < size)
        {
            k *= 2;
        }

        return k;
    }
}
