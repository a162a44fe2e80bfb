using System.Collections.Frozen;
using System.Security.Cryptography;
using Companion.Contracts.Uplink;

namespace Companion.Watchroom.Access;

/// <summary>The tablets that are paired, in the file devices.json. Callable from any thread.</summary>
internal sealed class Devices(string store, TimeProvider time)
{
    private const int Most = 10_000;
    private const int LongestName = 40;
    private const string P256 = "1.2.840.10045.3.1.7";
    private readonly KeptFile<Device[]> file = new(Path.Combine(store, "devices.json"), []);
    private Device[]? indexed;
    private FrozenDictionary<string, Device> index = FrozenDictionary<string, Device>.Empty;

    /// <summary>All, in the order of their pairing.</summary>
    public IReadOnlyList<Device> All() => file.Read();

    /// <summary>The tablet that signs under this name; null when there is none.</summary>
    public Device? Find(string name)
    {
        var all = file.Read();
        if (!ReferenceEquals(all, Volatile.Read(ref indexed)))
        {
            // Two at once make the same index twice; the mark is set last, so that nobody reads the old one under the new mark.
            Volatile.Write(ref index, all.ToFrozenDictionary(device => device.Name));
            Volatile.Write(ref indexed, all);
        }

        return Volatile.Read(ref index).GetValueOrDefault(name);
    }

    /// <summary>What is wrong with an introduction, in plain words; null when nothing is.</summary>
    public static string? Fault(PairingRequest request)
    {
        if (request.Name.Trim().Length is 0 or > LongestName || request.Name.Any(char.IsControl))
        {
            return $"Give the tablet a name of 1 to {LongestName} letters.";
        }

        return request.Tablet == Guid.Empty || !IsKey(request.PublicKey) ? "The tablet's id or key is not one. Pair again from the tablet." : null;
    }

    /// <summary>The tablet as it is paired already with this very key: its answer was lost on the way, and it asks again.</summary>
    public Device? Same(PairingRequest request) =>
        Array.Find(file.Read(), device => device.Revoked is null && device.Tablet == request.Tablet && device.PublicKey == request.PublicKey);

    /// <summary>
    /// Pairs a tablet. A revoked one comes back under its old name, so that its record goes on; null when the tablet is paired with another key
    /// and not revoked, or there are too many.
    /// </summary>
    public Device? Pair(PairingRequest request) => file.Change<Device?>(devices =>
    {
        var before = Array.Find(devices, device => device.Tablet == request.Tablet);
        if (before is { Revoked: null } || devices.Length >= Most)
        {
            return (devices, null);
        }

        var name = before?.Name ?? $"tablet-{RandomNumberGenerator.GetHexString(12, lowercase: true)}";
        var device = new Device(name, request.Tablet, request.Name.Trim(), request.PublicKey, time.GetUtcNow(), null);
        return ([.. devices.Where(other => other != before), device], device);
    });

    /// <summary>From now on the tablet is refused. False when there is no such tablet, or it is revoked already.</summary>
    public bool Revoke(string name) => file.Change(devices => devices.Any(device => device.Name == name && device.Revoked is null)
        ? (devices.Select(device => device.Name == name ? device with { Revoked = time.GetUtcNow() } : device).ToArray(), true)
        : (devices, false));

    private static bool IsKey(string text)
    {
        try
        {
            using var key = ECDsa.Create();
            key.ImportSubjectPublicKeyInfo(Convert.FromBase64String(text), out _);
            return key.ExportParameters(false).Curve.Oid.Value == P256;
        }
        catch (Exception cause) when (cause is FormatException or CryptographicException)
        {
            return false;
        }
    }
}
