using System.Globalization;
using System.Security.Cryptography;
using Companion.Contracts.Uplink;
using Companion.Watchroom.Access;

namespace Companion.Watchroom.Web;

/// <summary>Lets a tablet's request in only when it is of this version, not too large, from a paired tablet, signed by it, and new.</summary>
internal sealed class UplinkGate(UplinkServices services)
{
    /// <summary>The tablet and the body; null when it was refused, and then the refusal has been written.</summary>
    public async Task<(Device Device, ReadOnlyMemory<byte> Body)?> AdmitAsync(HttpContext context, int limit)
    {
        string name = context.Request.Headers[UplinkFormat.DeviceHeader].ToString();
        if (services.Devices.Find(name) is not { } device)
        {
            return await RefuseAsync(context, Audit.Stranger, "device", 401, "This tablet is not paired here. Pair it with a code from an administrator.").ConfigureAwait(false);
        }

        if (device.Revoked is not null)
        {
            return await RefuseAsync(context, name, "revoked", 403, "This tablet was revoked. Ask an administrator for a new code.").ConfigureAwait(false);
        }

        if (await BodyAsync(context, name, limit).ConfigureAwait(false) is not { } body)
        {
            return null;
        }

        var counter = context.Request.Headers[UplinkFormat.CounterHeader].ToString();
        if (!long.TryParse(counter, NumberStyles.None, CultureInfo.InvariantCulture, out var number) || number is < 1 or > Counters.Largest)
        {
            return await RefuseAsync(context, name, "counter", 400, "The counter is no whole number from 1 on.").ConfigureAwait(false);
        }

        if (!IsSigned(context, device, counter, body.Span))
        {
            return await RefuseAsync(context, name, "signature", 401, "The signature does not fit the tablet's key. Pair the tablet again.").ConfigureAwait(false);
        }

        if (services.Counters.Take(name, context.Request.Path, number) is { } least)
        {
            return await RefuseAsync(context, name, "replay", 409, "This counter was used, or may have been. Go on from the least counter.", least).ConfigureAwait(false);
        }

        return (device, body);
    }

    /// <summary>The body of a request of this version; null when it was refused.</summary>
    public async Task<ReadOnlyMemory<byte>?> BodyAsync(HttpContext context, string device, int limit)
    {
        var version = context.Request.Headers[UplinkFormat.VersionHeader].ToString();
        if (version != UplinkFormat.Version)
        {
            var isKnownForm = int.TryParse(version, NumberStyles.None, CultureInfo.InvariantCulture, out _);
            await RefuseAsync(context, device, "version", isKnownForm ? 426 : 400, $"This watch room speaks version {UplinkFormat.Version}. Bring both to the same version.").ConfigureAwait(false);
            return null;
        }

        if (context.Request.Headers.ContentEncoding.Count > 0)
        {
            // What is not unpacked cannot burst.
            await RefuseAsync(context, device, "encoding", 415, "Packed bodies are not taken. Send it as it is.").ConfigureAwait(false);
            return null;
        }

        if (await BoundedBody.ReadAsync(context.Request, limit, context.RequestAborted).ConfigureAwait(false) is { } body)
        {
            return body;
        }

        await RefuseAsync(context, device, "size", 413, $"The body is larger than {limit} bytes. Send less at once.").ConfigureAwait(false);
        return null;
    }

    private async Task<(Device Device, ReadOnlyMemory<byte> Body)?> RefuseAsync(
        HttpContext context, string device, string kind, int status, string reason, long? least = null)
    {
        await Answers.RefuseAsync(context, services.Audit, device, kind, status, reason, least).ConfigureAwait(false);
        return null;
    }

    private static bool IsSigned(HttpContext context, Device device, string counter, ReadOnlySpan<byte> body)
    {
        Span<byte> signature = stackalloc byte[64];
        if (!Convert.TryFromBase64String(context.Request.Headers[UplinkFormat.SignatureHeader].ToString(), signature, out var written) || written != signature.Length)
        {
            return false;
        }

        var hash = Convert.ToHexStringLower(SHA256.HashData(body));
        var text = UplinkFormat.SignedText(context.Request.Method, context.Request.Path, device.Name, counter, hash);
        using var key = ECDsa.Create();
        key.ImportSubjectPublicKeyInfo(Convert.FromBase64String(device.PublicKey), out _);
        return key.VerifyData(text, signature, HashAlgorithmName.SHA256, DSASignatureFormat.IeeeP1363FixedFieldConcatenation);
    }
}
