using System.Security.Cryptography;
using System.Text;
using Companion.Papers.Coding;

namespace Companion.Papers.Tests.Coding;

/// <summary>A tablet's key for one test run.</summary>
internal sealed class TestSigner : IPaperSigner
{
    private readonly ECDsa _key = ECDsa.Create(ECCurve.NamedCurves.nistP256);

    public Guid Tablet { get; } = new("6f1c0a52-7d0e-4d3f-9a56-0b54c0ffee01");

    public string PublicKey => Convert.ToBase64String(_key.ExportSubjectPublicKeyInfo());

    public string KeyId => Convert.ToHexStringLower(SHA256.HashData(Encoding.ASCII.GetBytes(PublicKey)))[..16];

    public byte[] Sign(ReadOnlySpan<byte> statement) => _key.SignData(statement, HashAlgorithmName.SHA256);

    public string? Find(string keyId) => keyId == KeyId ? PublicKey : null;
}
