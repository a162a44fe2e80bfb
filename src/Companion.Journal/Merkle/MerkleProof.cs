using System.Numerics;

namespace Companion.Journal.Merkle;

/// <summary>
/// Checks paths of a Merkle tree without the tree, by the algorithms of RFC 9162, sections 2.1.3.2 and 2.1.4.2, for the paths of RFC 6962.
/// Pure; any thread.
/// </summary>
public static class MerkleProof
{
    /// <summary>True when the path leads from the leaf at this index to the root of a tree of this size.</summary>
    public static bool Includes(long index, long size, byte[] leafHash, IReadOnlyList<byte[]> path, ReadOnlySpan<byte> root)
    {
        if (index < 0 || index >= size || path.Any(step => step.Length != MerkleHash.Length))
        {
            return false;
        }

        var (node, last) = (index, size - 1);
        var hash = leafHash;
        foreach (var step in path)
        {
            if (last == 0)
            {
                return false;
            }

            hash = IsRight(node, last) ? MerkleHash.Node(step, hash) : MerkleHash.Node(hash, step);
            (node, last) = Above(node, last);
        }

        return last == 0 && root.SequenceEqual(hash);
    }

    /// <summary>True when the path shows that the tree of the second root holds the leaves of the first, in place, and only more behind them.</summary>
    public static bool Extends(long first, ReadOnlySpan<byte> firstRoot, long second, ReadOnlySpan<byte> secondRoot, IReadOnlyList<byte[]> path)
    {
        if (first < 1 || first > second || path.Any(step => step.Length != MerkleHash.Length))
        {
            return false;
        }

        if (first == second)
        {
            return path.Count == 0 && firstRoot.SequenceEqual(secondRoot);
        }

        // A first tree of a power of two is itself a node of the second: its root is not sent.
        IReadOnlyList<byte[]> steps = BitOperations.IsPow2(first) ? [firstRoot.ToArray(), .. path] : path;
        if (steps.Count == 0)
        {
            return false;
        }

        var (node, last) = (first - 1, second - 1);
        for (; (node & 1) == 1; node >>= 1)
        {
            last >>= 1;
        }

        var (before, after) = (steps[0], steps[0]);
        foreach (var step in steps.Skip(1))
        {
            if (last == 0)
            {
                return false;
            }

            (before, after) = IsRight(node, last)
                ? (MerkleHash.Node(step, before), MerkleHash.Node(step, after))
                : (before, MerkleHash.Node(after, step));
            (node, last) = Above(node, last);
        }

        return last == 0 && firstRoot.SequenceEqual(before) && secondRoot.SequenceEqual(after);
    }

    /// <summary>The step stands to the left: the node is a right child, or the last of its level and moves up alone.</summary>
    private static bool IsRight(long node, long last) => (node & 1) == 1 || node == last;

    /// <summary>The place a level up; the last node of a level, when it is a left one, stands for its forebears until one is a right one.</summary>
    private static (long Node, long Last) Above(long node, long last)
    {
        if (node == last)
        {
            while ((node & 1) == 0 && node != 0)
            {
                node >>= 1;
                last >>= 1;
            }
        }

        return (node >> 1, last >> 1);
    }
}
