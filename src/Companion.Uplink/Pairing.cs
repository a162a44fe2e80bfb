using System.Net.Http.Json;
using System.Text.Json;
using Companion.Contracts.Uplink;

namespace Companion.Uplink;

/// <summary>Introduces a tablet to its watch room, once.</summary>
public static class Pairing
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    /// <summary>Pairs; afterwards the uplink can be started.</summary>
    /// <param name="parts">Where key and pairing are kept.</param>
    /// <param name="address">The watch room, HTTPS.</param>
    /// <param name="certificate">SHA-256 of its certificate as the watch room shows it, with or without colons; null to trust as the system does.</param>
    /// <param name="code">The one-time code.</param>
    /// <param name="tablet">The store's tablet id.</param>
    /// <param name="name">What people call the tablet.</param>
    /// <param name="cancellation">Ends the attempt.</param>
    /// <returns>Null when paired; otherwise what went wrong and what to do.</returns>
    public static async Task<string?> PairAsync(
        UplinkParts parts, Uri address, string? certificate, string code, Guid tablet, string name, CancellationToken cancellation = default)
    {
        if (address.Scheme != Uri.UriSchemeHttps)
        {
            return "The address of a watch room begins with https.";
        }

        var pin = certificate?.Replace(":", string.Empty, StringComparison.Ordinal).ToLowerInvariant();
        using var key = DeviceKey.Open(parts.KeyFile);
        using var http = WatchroomClient.Http(address, pin);
        using var soon = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        soon.CancelAfter(Patience);
        try
        {
            using var response = await http.PostAsJsonAsync(
                UplinkFormat.PairPath, new PairingRequest(code, tablet, name, key.PublicKey), UplinkFormat.Json, soon.Token).ConfigureAwait(false);
            var bytes = await response.Content.ReadAsByteArrayAsync(soon.Token).ConfigureAwait(false);
            var answer = new WatchroomClient.Answer(response.StatusCode, bytes);
            if (!answer.IsSuccess || answer.Read<PairingAnswer>() is not { } paired)
            {
                return answer.Trouble;
            }

            // What another watch room held says nothing of this one; one that holds it already says so to the first batch.
            File.Delete(parts.PositionsFile);
            new PairedWatchroom(address, pin, paired.Device).Write(parts.WatchroomFile);
            return null;
        }
        catch (HttpRequestException cause) when (cause.HttpRequestError == HttpRequestError.SecureConnectionError)
        {
            return "The watch room shows another certificate than the one that was given. Compare the fingerprint, and pair with nobody else.";
        }
        catch (Exception cause) when (cause is HttpRequestException or JsonException || (cause is OperationCanceledException && !cancellation.IsCancellationRequested))
        {
            return $"No watch room answers at {address}. Check the address, the port and the network.";
        }
    }
}
