using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace Companion.Watchroom.Telling;

/// <summary>
/// Tells by a POST of JSON. Headers: the telling's id, a timestamp in Unix seconds, and HMAC-SHA256 in lower-case hex over
/// "timestamp.id.body". The receiver checks the signature, refuses old timestamps, and drops an id that it has had.
/// </summary>
internal sealed class WebhookChannel(TimeProvider time) : IChannel, IDisposable
{
    /// <summary>The telling's id.</summary>
    public const string IdHeader = "Companion-Id";

    /// <summary>When it was sent.</summary>
    public const string TimestampHeader = "Companion-Timestamp";

    /// <summary>The signature.</summary>
    public const string SignatureHeader = "Companion-Signature";

    private readonly HttpClient client = new(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false });

    /// <inheritdoc/>
    public async Task TellAsync(Telling telling, RingRound round, CancellationToken cancellation)
    {
        var secret = round.Secret ?? throw new NotToldException("There is no secret to sign with.");
        var body = JsonSerializer.Serialize(new
        {
            id = telling.Id,
            alert = telling.Alert.Id,
            kind = telling.Alert.Kind.ToString().ToLowerInvariant(),
            technician = telling.Alert.Technician,
            place = telling.Alert.Place,
            position = telling.Position is { } position
                ? new
                {
                    latitude = position.Latitude,
                    longitude = position.Longitude,
                    accuracymetres = position.AccuracyMetres,
                    ageseconds = (long)position.AgeAt(telling.At).TotalSeconds,
                    old = position.IsOldAt(telling.At),
                    geo = position.GeoLink,
                }
                : null,
            job = telling.Alert.Job,
            raised = telling.Alert.Raised.ToUniversalTime(),
            subject = TellingWords.Subject(telling.Alert),
            text = TellingWords.Body(telling.Alert, telling.Position, telling.At),
        });
        var timestamp = time.GetUtcNow().ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);
        using var request = new HttpRequestMessage(HttpMethod.Post, telling.Target.Address)
        {
            Content = new StringContent(body, Encoding.UTF8, "application/json"),
        };
        request.Headers.Add(IdHeader, telling.Id);
        request.Headers.Add(TimestampHeader, timestamp);
        request.Headers.Add(SignatureHeader, Sign(secret, timestamp, telling.Id, body));
        try
        {
            using var response = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancellation).ConfigureAwait(false);
            if (!response.IsSuccessStatusCode)
            {
                throw new NotToldException($"The other side answered {(int)response.StatusCode}.");
            }
        }
        catch (HttpRequestException cause)
        {
            throw new NotToldException($"The other side was not reached: {cause.Message}", cause);
        }
    }

    /// <summary>The signature of a message.</summary>
    public static string Sign(byte[] secret, string timestamp, string id, string body) =>
        Convert.ToHexStringLower(HMACSHA256.HashData(secret, Encoding.UTF8.GetBytes($"{timestamp}.{id}.{body}")));

    /// <inheritdoc/>
    public void Dispose() => client.Dispose();
}
