namespace Companion.Contracts.Uplink;

/// <summary>A tablet introduces itself, once, with a code that an administrator read out.</summary>
/// <param name="Code">The one-time code, digits only.</param>
/// <param name="Tablet">The store's tablet id.</param>
/// <param name="Name">What people call it ("van 12").</param>
/// <param name="PublicKey">ECDSA P-256, SubjectPublicKeyInfo, base64.</param>
public sealed record PairingRequest(string Code, Guid Tablet, string Name, string PublicKey);

/// <summary>The watch room knows the tablet from now on.</summary>
/// <param name="Device">The name under which it signs its requests.</param>
public sealed record PairingAnswer(string Device);
