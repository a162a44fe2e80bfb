using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Security.Cryptography;
using System.Text;
using Companion.Contracts.Uplink;

namespace Companion.Watchroom.Tests.Support;

/// <summary>A tablet that signs its requests, and can be made to do it wrongly.</summary>
public sealed class FakeTablet(WatchroomRig rig, string name) : IDisposable
{
    public const string Job = "job-7";

    private readonly HttpClient client = Pinned.Client(rig);

    public Guid Tablet { get; init; } = Guid.NewGuid();

    public ECDsa Key { get; set; } = ECDsa.Create(ECCurve.NamedCurves.nistP256);

    public string Device { get; set; } = string.Empty;

    public long Counter { get; set; }

    public string Version { get; set; } = UplinkFormat.Version;

    public string PublicKey => Convert.ToBase64String(Key.ExportSubjectPublicKeyInfo());

    /// <summary>A beat of a technician who works, with a check-in just made.</summary>
    public static Beat Beat(string job = Job, bool rehearsal = false, params Call[] calls) => new(
        job, "Maren Oake", "working", "Mill Lane, marker 40/2", new Whereabouts("52.20510", "-0.13640", 12, 4000),
        new CheckInStatement(1, 1000, 600, 60, "working"), [new RunningWait("DC link", 240)], calls, true, rehearsal);

    public static Beat Calling(CallKind kind, string job = Job, bool rehearsal = false) => Beat(job, rehearsal, new Call($"{job}/9", kind, 500));

    public async Task PairAsync(string code)
    {
        using var answer = await IntroduceAsync(code);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Device = (await answer.Content.ReadFromJsonAsync<PairingAnswer>(UplinkFormat.Json))!.Device;
    }

    public Task<HttpResponseMessage> IntroduceAsync(string code) =>
        SendAsync(UplinkFormat.PairPath, JsonContent.Create(new PairingRequest(code, Tablet, name, PublicKey), options: UplinkFormat.Json));

    public async Task<BeatAnswer> BeatAsync(Beat beat)
    {
        using var answer = await SendSignedAsync(UplinkFormat.BeatPath, Bytes(beat));
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        return (await answer.Content.ReadFromJsonAsync<BeatAnswer>(UplinkFormat.Json))!;
    }

    public static byte[] Bytes(Beat beat) => System.Text.Json.JsonSerializer.SerializeToUtf8Bytes(beat, UplinkFormat.Json);

    /// <summary>Sends with the next counter.</summary>
    /// <param name="signedPath">What the signature is made for, where it is not the path itself.</param>
    public Task<HttpResponseMessage> SendSignedAsync(string path, byte[] body, Action<HttpContent>? change = null, bool chunked = false, string? signedPath = null)
    {
        Counter++;
        var counter = Counter.ToString(CultureInfo.InvariantCulture);
        var text = UplinkFormat.SignedText("POST", signedPath ?? path, Device, counter, Convert.ToHexStringLower(SHA256.HashData(body)));
        var content = new ByteArrayContent(body);
        content.Headers.Add(UplinkFormat.DeviceHeader, Device);
        content.Headers.Add(UplinkFormat.CounterHeader, counter);
        content.Headers.Add(UplinkFormat.SignatureHeader, Convert.ToBase64String(Key.SignData(text, HashAlgorithmName.SHA256)));
        change?.Invoke(content);
        return SendAsync(path, content, chunked);
    }

    public void Dispose()
    {
        client.Dispose();
        Key.Dispose();
    }

    private Task<HttpResponseMessage> SendAsync(string path, HttpContent content, bool chunked = false)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, new Uri(rig.App.Address, path)) { Content = content };
        request.Headers.TransferEncodingChunked = chunked ? true : null;

        // A refusal may come and the connection end while the body is still on its way: asked first, it is not lost in a broken pipe.
        request.Headers.ExpectContinue = true;
        if (Version.Length > 0)
        {
            request.Headers.Add(UplinkFormat.VersionHeader, Version);
        }

        return client.SendAsync(request);
    }
}

/// <summary>Clients that take the watch room's certificate by its fingerprint alone, as a tablet does.</summary>
internal static class Pinned
{
    public static HttpClient Client(WatchroomRig rig, CookieContainer? cookies = null) => new(new HttpClientHandler
    {
        AllowAutoRedirect = false,
        CookieContainer = cookies ?? new CookieContainer(),
        ServerCertificateCustomValidationCallback = (_, certificate, _, _) =>
            certificate!.GetCertHashString(HashAlgorithmName.SHA256).Equals(rig.App.Fingerprint, StringComparison.OrdinalIgnoreCase),
    });
}
