namespace Companion.Watchroom.Access;

/// <summary>A tablet that is paired, or was.</summary>
/// <param name="Name">The name under which it signs.</param>
/// <param name="Tablet">Its store's id.</param>
/// <param name="Called">What people call it.</param>
/// <param name="PublicKey">ECDSA P-256, SubjectPublicKeyInfo, base64.</param>
/// <param name="Paired">Since when.</param>
/// <param name="Revoked">Since when it is refused; null while it is not.</param>
public sealed record Device(string Name, Guid Tablet, string Called, string PublicKey, DateTimeOffset Paired, DateTimeOffset? Revoked);
