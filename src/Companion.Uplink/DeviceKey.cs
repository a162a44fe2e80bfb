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

    /// <summary>
    /// Reads the key from its file, or makes both. A file that holds no key is replaced: the watch room does not know the new one and says so, and
    /// the tablet can be paired again.
    /// </summary>
    public static DeviceKey Open(string path)
    {
        if (DurableText.Read(path) is { } pem && Kept(pem) is { } kept)
        {
            return new DeviceKey(kept);
        }

        var made = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        DurableText.Write(path, made.ExportPkcs8PrivateKeyPem());
        return new DeviceKey(made);
    }

    private static ECDsa? Kept(string pem)
    {
        var key = ECDsa.Create();
        try
        {
            key.ImportFromPem(pem);
            return key;
        }
        catch (Exception cause) when (cause is ArgumentException or CryptographicException)
        {
            key.Dispose();
            return null;
        }
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
