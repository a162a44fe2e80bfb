using System.Security.Cryptography;
using Companion.Contracts.Uplink;

namespace Companion.Uplink;

/// <summary>The tablet's key for its watch room: ECDSA P-256, made here, never leaves the store. Signing from any thread.</summary>
public sealed class DeviceKey : IDisposable
{
    private readonly ECDsa _key;
    private readonly Lock _one = new();

    private DeviceKey(ECDsa key) => _key = key;

    /// <summary>The public half, SubjectPublicKeyInfo, base64.</summary>
    public string PublicKey => Convert.ToBase64String(_key.ExportSubjectPublicKeyInfo());

    /// <summary>Reads the key from its file, or makes both.</summary>
    public static DeviceKey Open(string path)
    {
        if (DurableText.Read(path) is { } pem)
        {
            var kept = ECDsa.Create();
            kept.ImportFromPem(pem);
            return new DeviceKey(kept);
        }

        var made = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        DurableText.Write(path, made.ExportPkcs8PrivateKeyPem());
        return new DeviceKey(made);
    }

    /// <summary>The signature of a request, base64.</summary>
    public string Sign(string path, string device, long counter, ReadOnlySpan<byte> body)
    {
        var text = UplinkFormat.SignedText(
            "POST", path, device, counter.ToString(System.Globalization.CultureInfo.InvariantCulture), Convert.ToHexStringLower(SHA256.HashData(body)));
        lock (_one)
        {
            return Convert.ToBase64String(_key.SignData(text, HashAlgorithmName.SHA256));
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _key.Dispose();
}
