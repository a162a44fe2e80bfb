using System.Security.Cryptography;
using System.Text;
using Companion.Journal.Disk;

namespace Companion.Journal.Heads;

/// <summary>
/// A P-256 key in a PEM file that only its owner may read: the tablet's for the heads of chains, the watch room's for the heads of its tree.
/// Used by one thread at a time.
/// </summary>
public sealed class SigningKey : IHeadSigner, IDisposable
{
    private static readonly byte[] Probe = "does this key fit itself"u8.ToArray();

    private readonly ECDsa key;

    private SigningKey(ECDsa key)
    {
        this.key = key;
        PublicKey = Convert.ToBase64String(key.ExportSubjectPublicKeyInfo());
    }

    /// <inheritdoc/>
    public string PublicKey { get; }

    /// <summary>
    /// Reads the key; null when there is none, or the file holds none whose signatures fit: a changed private part beside an unchanged
    /// public one would sign heads that no checker accepts.
    /// </summary>
    public static SigningKey? Read(IDisk disk, string path)
    {
        if (!disk.Exists(path))
        {
            return null;
        }

        using var file = disk.OpenRead(path);
        var bytes = new byte[file.Length];
        _ = file.Read(0, bytes);
        var key = ECDsa.Create();
        try
        {
            key.ImportFromPem(Encoding.ASCII.GetString(bytes));
            var read = new SigningKey(key);
            if (read.IsWhole())
            {
                return read;
            }
        }
        catch (Exception cause) when (cause is ArgumentException or CryptographicException or NotSupportedException)
        {
            // Not a key, or one of a curve this system does not know: a new one is made, and the chain says so.
        }

        key.Dispose();
        return null;
    }

    /// <summary>Makes a new key, durably, in place of any file of that name.</summary>
    public static SigningKey Create(IDisk disk, string path)
    {
        var fresh = path + StoreFiles.NewSuffix;
        if (disk.Exists(fresh))
        {
            disk.Delete(fresh);
        }

        var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        using (var file = disk.CreatePrivate(fresh))
        {
            file.Write(0, Encoding.ASCII.GetBytes(key.ExportPkcs8PrivateKeyPem()));
            file.Sync();
        }

        disk.Rename(fresh, path);
        disk.SyncDirectory(Path.GetDirectoryName(path)!);
        return new SigningKey(key);
    }

    /// <inheritdoc/>
    public byte[] Sign(ReadOnlySpan<byte> statement) => key.SignData(statement, HashAlgorithmName.SHA256);

    /// <inheritdoc/>
    public void Dispose() => key.Dispose();

    private bool IsWhole()
    {
        using var other = ECDsa.Create();
        other.ImportSubjectPublicKeyInfo(Convert.FromBase64String(PublicKey), out _);
        return other.VerifyData(Probe, Sign(Probe), HashAlgorithmName.SHA256);
    }
}
