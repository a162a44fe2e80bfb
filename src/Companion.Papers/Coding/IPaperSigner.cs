namespace Companion.Papers.Coding;

/// <summary>Signs what a paper states with the key by which the tablet signs the ends of its chains. Implemented where that key lives. One thread at a time.</summary>
public interface IPaperSigner
{
    /// <summary>The tablet.</summary>
    Guid Tablet { get; }

    /// <summary>The short name of its key, as signed heads give it: 16 lower-case hex digits.</summary>
    string KeyId { get; }

    /// <summary>An ECDSA P-256 signature over SHA-256, as the 64 bytes of IEEE P1363.</summary>
    byte[] Sign(ReadOnlySpan<byte> statement);
}
