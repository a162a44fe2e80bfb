namespace Companion.Journal.Heads;

/// <summary>Signs statements about the ends of chains for one tablet, or about a tree for one watch room. Used by one thread at a time.</summary>
public interface IHeadSigner
{
    /// <summary>The public key: base64 of the SubjectPublicKeyInfo.</summary>
    string PublicKey { get; }

    /// <summary>An ECDSA P-256 signature over SHA-256, as the 64 bytes of IEEE P1363.</summary>
    byte[] Sign(ReadOnlySpan<byte> statement);
}
