using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.TestKit;
using Companion.Uplink;

namespace Companion.Benchmarks.Watchroom;

/// <summary>A paired tablet that sends one request after another over one connection to each server, signed as the uplink signs. One caller at a time.</summary>
internal sealed class SigningTablet : IDisposable
{
    private readonly DeviceKey key;
    private readonly string device;
    private readonly HttpClient http;
    private long counter;

    private SigningTablet(DeviceKey key, PairedWatchroom paired) => (this.key, device, http) = (key, paired.Device, Http(paired.Certificate!));

    /// <summary>Pairs with a watch room.</summary>
    /// <param name="room">The watch room.</param>
    /// <param name="folder">Where the key is kept.</param>
    /// <param name="tablet">The store's tablet id.</param>
    public static async Task<SigningTablet> PairAsync(WatchroomProcess room, string folder, Guid tablet)
    {
        var parts = new UplinkParts(folder, NoJournal.Instance, () => throw new InvalidOperationException(), TimeProvider.System, () => 0);
        return await Pairing.PairAsync(parts, room.Address, room.Fingerprint, await room.PairCodeAsync(), tablet, Path.GetFileName(folder)) is { } fault
            ? throw new InvalidOperationException(fault)
            : new SigningTablet(DeviceKey.Open(parts.KeyFile), PairedWatchroom.Read(parts.WatchroomFile)!);
    }

    /// <summary>A client that trusts one certificate, keeps cookies and follows no redirect.</summary>
    public static HttpClient Http(string certificate) => new(new SocketsHttpHandler
    {
        AllowAutoRedirect = false,
        SslOptions = { RemoteCertificateValidationCallback = (_, shown, _, _) => Convert.ToHexStringLower(SHA256.HashData(shown!.GetRawCertData())) == certificate },
    });

    /// <summary>Sends a body, and reads the answer whole; a watch room that was killed asks for a higher counter first.</summary>
    /// <returns>How long that took, the signing not counted.</returns>
    /// <exception cref="InvalidOperationException">It was refused.</exception>
    public async Task<TimeSpan> PostAsync(Uri server, string path, byte[] body)
    {
        while (true)
        {
            using var request = Signed(server, path, body);
            var since = Stopwatch.GetTimestamp();
            using var answer = await http.SendAsync(request);
            var words = await answer.Content.ReadAsStringAsync();
            var took = Stopwatch.GetElapsedTime(since);
            if (answer.IsSuccessStatusCode)
            {
                return took;
            }

            if (answer.StatusCode != HttpStatusCode.Conflict || JsonSerializer.Deserialize<Refused>(words, UplinkFormat.Json) is not { LeastCounter: { } least })
            {
                throw new InvalidOperationException($"{(int)answer.StatusCode} {words}");
            }

            counter = least - 1;
        }
    }

    public void Dispose()
    {
        http.Dispose();
        key.Dispose();
    }

    private HttpRequestMessage Signed(Uri server, string path, byte[] body)
    {
        counter++;
        var request = new HttpRequestMessage(HttpMethod.Post, new Uri(server, path)) { Content = new ByteArrayContent(body) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue(path == UplinkFormat.BatchPath ? "application/x-ndjson" : "application/json");
        request.Headers.Add(UplinkFormat.VersionHeader, UplinkFormat.Version);
        request.Headers.Add(UplinkFormat.DeviceHeader, device);
        request.Headers.Add(UplinkFormat.CounterHeader, counter.ToString(CultureInfo.InvariantCulture));
        request.Headers.Add(UplinkFormat.SignatureHeader, key.Sign(path, device, counter, body));
        return request;
    }
}
