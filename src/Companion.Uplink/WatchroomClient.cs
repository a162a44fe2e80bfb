using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text.Json;
using Companion.Contracts.Uplink;
using Polly.Timeout;

namespace Companion.Uplink;

/// <summary>
/// Signed requests over one connection of its own. An answer counts only if it is what a watch room answers: JSON of the expected form; a portal's
/// page with a friendly status is none. Used by one caller at a time.
/// </summary>
internal sealed class WatchroomClient : IDisposable
{
    private const int LargestAnswer = 1 << 20;
    private readonly HttpClient _http;
    private readonly PairedWatchroom _paired;
    private readonly DeviceKey _key;
    private readonly RequestCounter _counter;
    private readonly string _path;

    public WatchroomClient(PairedWatchroom paired, DeviceKey key, string path, RequestCounter counter, HttpMessageHandler? network)
    {
        (_paired, _key, _path, _counter) = (paired, key, path, counter);
        _http = network is null ? Http(paired.Address, paired.Certificate) : Http(paired.Address, network);
    }

    /// <summary>Sends a body, and once more with a higher counter when the watch room asks for one.</summary>
    public async Task<Answer> PostAsync(ReadOnlyMemory<byte> body, string contentType, CancellationToken cancellation)
    {
        var answer = await OnceAsync(body, contentType, cancellation).ConfigureAwait(false);
        if (answer.Status == HttpStatusCode.Conflict && answer.Read<Refused>() is { LeastCounter: { } least })
        {
            _counter.AtLeast(least);
            answer = await OnceAsync(body, contentType, cancellation).ConfigureAwait(false);
        }

        return answer;
    }

    /// <summary>A client that trusts the pinned certificate and nothing else, or the system's trust when none is pinned; follows no redirect.</summary>
    public static HttpClient Http(Uri address, string? certificate)
    {
        var handler = new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false, UseProxy = false, ConnectTimeout = TimeSpan.FromSeconds(5) };
        if (certificate is not null)
        {
            handler.SslOptions.RemoteCertificateValidationCallback = (_, shown, _, _) =>
                shown is not null && Convert.ToHexStringLower(SHA256.HashData(shown.GetRawCertData())) == certificate;
        }

        return Http(address, handler);
    }

    private static HttpClient Http(Uri address, HttpMessageHandler network)
    {
        var http = new HttpClient(network) { BaseAddress = address, MaxResponseContentBufferSize = LargestAnswer, Timeout = Timeout.InfiniteTimeSpan };
        http.DefaultRequestHeaders.Add(UplinkFormat.VersionHeader, UplinkFormat.Version);
        return http;
    }

    /// <summary>Why nothing came back, and what to do; null when the cause is not the link's.</summary>
    public static string? TroubleOf(Exception cause) => cause switch
    {
        HttpRequestException { HttpRequestError: HttpRequestError.SecureConnectionError } =>
            "What answers shows another certificate than the watch room's. Tell the team lead; if the watch room has a new one, pair the tablet again.",
        HttpRequestException or TimeoutRejectedException or IOException => "The watch room is out of reach.",
        _ => null,
    };

    /// <inheritdoc/>
    public void Dispose() => _http.Dispose();

    private async Task<Answer> OnceAsync(ReadOnlyMemory<byte> body, string contentType, CancellationToken cancellation)
    {
        var counter = _counter.Next();
        using var request = new HttpRequestMessage(HttpMethod.Post, _path) { Content = new ReadOnlyMemoryContent(body) };
        request.Content.Headers.ContentType = new MediaTypeHeaderValue(contentType);
        request.Headers.Add(UplinkFormat.DeviceHeader, _paired.Device);
        request.Headers.Add(UplinkFormat.CounterHeader, counter.ToString(CultureInfo.InvariantCulture));
        request.Headers.Add(UplinkFormat.SignatureHeader, _key.Sign(_path, _paired.Device, counter, body.Span));
        using var response = await _http.SendAsync(request, cancellation).ConfigureAwait(false);
        var bytes = await response.Content.ReadAsByteArrayAsync(cancellation).ConfigureAwait(false);
        return new Answer(response.StatusCode, response.Content.Headers.ContentType?.MediaType == "application/json" ? bytes : []);
    }

    /// <summary>What came back: the status, and the body if it claims to be JSON.</summary>
    internal sealed record Answer(HttpStatusCode Status, byte[] Body)
    {
        public bool IsSuccess => (int)Status is >= 200 and < 300;

        /// <summary>The body as this record; null when it is nothing of the kind.</summary>
        public T? Read<T>()
            where T : class
        {
            try
            {
                return Body.Length == 0 ? null : JsonSerializer.Deserialize<T>(Body, UplinkFormat.Json);
            }
            catch (JsonException)
            {
                return null;
            }
        }

        /// <summary>Why it is no acknowledgement, in plain words.</summary>
        public string Trouble => Read<Refused>()?.Reason ?? Status switch
        {
            HttpStatusCode.Unauthorized or HttpStatusCode.Forbidden => "The watch room does not know this tablet. Pair it again.",
            HttpStatusCode.ServiceUnavailable or HttpStatusCode.InternalServerError => "The watch room cannot store at the moment.",
            _ => IsSuccess ? "Something else answers in the watch room's place. Is there a sign-in page on this network?" : $"The watch room answers {(int)Status}.",
        };
    }
}
