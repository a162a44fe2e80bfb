using System.Security.Cryptography;

namespace Companion.Journal.Merkle;

/// <summary>
/// The hashes of a Merkle tree as RFC 6962, section 2.1, defines them: SHA-256 with 0x00 before a leaf and 0x01 before a node, so that no
/// node passes for a leaf. Pure; any thread.
/// </summary>
public static class MerkleHash
{
    /// <summary>Length of a hash in bytes.</summary>
    public const int Length = SHA256.HashSizeInBytes;

    private const byte LeafMark = 0;
    private const byte NodeMark = 1;

    /// <summary>The root of a tree without leaves: the hash of nothing.</summary>
    public static byte[] Empty => SHA256.HashData([]);

    /// <summary>The hash of a leaf's content.</summary>
    public static byte[] Leaf(ReadOnlySpan<byte> content)
    {
        using var sha = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        sha.AppendData([LeafMark]);
        sha.AppendData(content);
        return sha.GetHashAndReset();
    }

    /// <summary>The hash of the node above two others.</summary>
    public static byte[] Node(ReadOnlySpan<byte> left, ReadOnlySpan<byte> right)
    {
        Span<byte> joined = stackalloc byte[1 + (2 * Length)];
        joined[0] = NodeMark;
        left.CopyTo(joined[1..]);
        right.CopyTo(joined[(1 + Length)..]);
        return SHA256.HashData(joined);
    }
}
