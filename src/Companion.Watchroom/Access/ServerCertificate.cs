using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Companion.Journal.Disk;

namespace Companion.Watchroom.Access;

/// <summary>The certificate that the watch room shows: one that was brought, or one of its own, made once and kept so that tablets can pin it.</summary>
internal static class ServerCertificate
{
    private const string FileName = "certificate.pem";
    private const int Years = 10;

    /// <summary>The brought one, or the store's own.</summary>
    /// <exception cref="IOException">The brought file holds no certificate with its key.</exception>
    public static X509Certificate2 Load(string store, string? brought, DateTimeOffset now)
    {
        if (brought is not null)
        {
            return Bring(brought);
        }

        var path = Path.Combine(store, FileName);
        if (!File.Exists(path))
        {
            Write(path, Make(now));
        }

        return Bring(path);
    }

    private static X509Certificate2 Bring(string path)
    {
        try
        {
            var isPem = File.ReadAllText(path).Contains("-----BEGIN", StringComparison.Ordinal);
            var certificate = isPem ? X509Certificate2.CreateFromPemFile(path) : X509CertificateLoader.LoadPkcs12FromFile(path, null);
            return certificate.HasPrivateKey ? certificate : throw new IOException($"{path} holds no private key.");
        }
        catch (CryptographicException cause)
        {
            throw new IOException($"{path} holds no certificate with its key that can be used: {cause.Message}", cause);
        }
    }

    private static string Make(DateTimeOffset now)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=Companion watch room", key, HashAlgorithmName.SHA256);
        var names = new SubjectAlternativeNameBuilder();
        names.AddDnsName("localhost");
        names.AddDnsName(Environment.MachineName);
        names.AddIpAddress(IPAddress.Loopback);
        names.AddIpAddress(IPAddress.IPv6Loopback);
        request.CertificateExtensions.Add(names.Build());
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(false, false, 0, true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.DigitalSignature, true));
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid("1.3.6.1.5.5.7.3.1")], false));

        // A year back, for a tablet whose clock is late.
        using var certificate = request.CreateSelfSigned(now.AddYears(-1), now.AddYears(Years));
        return certificate.ExportCertificatePem() + "\n" + key.ExportPkcs8PrivateKeyPem() + "\n";
    }

    private static void Write(string path, string pem)
    {
        var disk = new LocalDisk();
        var fresh = path + ".new";
        disk.Delete(fresh);
        using (var file = disk.CreatePrivate(fresh))
        {
            file.Write(0, System.Text.Encoding.ASCII.GetBytes(pem));
            file.Sync();
        }

        disk.Rename(fresh, path);
        disk.SyncDirectory(Path.GetDirectoryName(path)!);
    }
}
