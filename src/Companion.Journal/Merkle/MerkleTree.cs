using System.Numerics;

namespace Companion.Journal.Merkle;

/// <summary>
/// A Merkle tree that only grows (RFC 6962, section 2.1). Every whole subtree is hashed once, when its last leaf arrives: a leaf costs two
/// hashes on average, a root or a path a number that grows with the logarithm of the size squared. Sixty-four bytes a leaf. Used by one
/// thread at a time.
/// </summary>
public sealed class MerkleTree
{
    /// <summary>By height: the hashes of the whole subtrees of 2^height leaves, from the left.</summary>
    private readonly List<List<byte[]>> whole = [[]];

    /// <summary>Number of leaves.</summary>
    public long Size => whole[0].Count;

    /// <summary>The root over all leaves.</summary>
    public byte[] Root() => Root(Size);

    /// <summary>The root over the first leaves, as it was when there were no more.</summary>
    public byte[] Root(long size)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(size);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(size, Size);
        return size == 0 ? MerkleHash.Empty : Range(0, size);
    }

    /// <summary>Adds a leaf by its hash; returns its index, from 0.</summary>
    public long Add(byte[] leafHash)
    {
        whole[0].Add(leafHash);
        for (var height = 0; whole[height].Count % 2 == 0; height++)
        {
            if (whole.Count == height + 1)
            {
                whole.Add([]);
            }

            whole[height + 1].Add(MerkleHash.Node(whole[height][^2], whole[height][^1]));
        }

        return Size - 1;
    }

    /// <summary>The root as it would be with more leaves, which are not added.</summary>
    public byte[] RootWith(IReadOnlyList<byte[]> leafHashes)
    {
        // What is whole on the left stays whole: only the ridge of the largest whole subtrees and the new leaves are hashed.
        var ridge = new List<(long Size, byte[] Hash)>();
        for (var height = whole.Count - 1; height >= 0; height--)
        {
            if (whole[height].Count % 2 == 1)
            {
                ridge.Add((1L << height, whole[height][^1]));
            }
        }

        foreach (var leaf in leafHashes)
        {
            ridge.Add((1, leaf));
            while (ridge.Count > 1 && ridge[^1].Size == ridge[^2].Size)
            {
                var joined = (ridge[^1].Size * 2, MerkleHash.Node(ridge[^2].Hash, ridge[^1].Hash));
                ridge.RemoveRange(ridge.Count - 2, 2);
                ridge.Add(joined);
            }
        }

        return ridge.Count == 0
            ? MerkleHash.Empty
            : ridge.Select(part => part.Hash).Reverse().Aggregate((right, left) => MerkleHash.Node(left, right));
    }

    /// <summary>The audit path of a leaf in the tree of the first leaves, from the leaf up: PATH(index, D[size]).</summary>
    public IReadOnlyList<byte[]> InclusionPath(long index, long size)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(index);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(index, size);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(size, Size);
        var path = new List<byte[]>();
        var start = 0L;
        while (size > 1)
        {
            var left = LargestPowerBelow(size);
            if (index < left)
            {
                path.Add(Range(start + left, size - left));
                size = left;
            }
            else
            {
                path.Add(Range(start, left));
                (start, index, size) = (start + left, index - left, size - left);
            }
        }

        path.Reverse();
        return path;
    }

    /// <summary>What shows that the tree of the first leaves became the tree of more by adding alone: PROOF(first, D[second]).</summary>
    public IReadOnlyList<byte[]> ConsistencyPath(long first, long second)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(first, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(first, second);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(second, Size);
        var path = new List<byte[]>();
        var (start, isKnown) = (0L, true);
        while (first < second)
        {
            var left = LargestPowerBelow(second);
            if (first <= left)
            {
                path.Add(Range(start + left, second - left));
                second = left;
            }
            else
            {
                path.Add(Range(start, left));
                (start, first, second, isKnown) = (start + left, first - left, second - left, false);
            }
        }

        if (!isKnown)
        {
            path.Add(Range(start, second));
        }

        path.Reverse();
        return path;
    }

    /// <summary>The largest power of two that is smaller than a size of 2 or more.</summary>
    private static long LargestPowerBelow(long size) => 1L << BitOperations.Log2((ulong)size - 1);

    /// <summary>The hash over a range whose start is a multiple of every power of two that it is split at.</summary>
    private byte[] Range(long start, long size)
    {
        if (BitOperations.IsPow2(size))
        {
            return whole[BitOperations.Log2((ulong)size)][(int)(start / size)];
        }

        var left = LargestPowerBelow(size);
        return MerkleHash.Node(Range(start, left), Range(start + left, size - left));
    }
}
