using System.Text.Json;
using Companion.Contracts.Uplink;

namespace Companion.Uplink;

/// <summary>The watch room that a tablet is paired with.</summary>
/// <param name="Address">Its address, HTTPS.</param>
/// <param name="Certificate">SHA-256 of its certificate, lower-case hex; null when the system's own trust decides.</param>
/// <param name="Device">The name under which the tablet signs.</param>
public sealed record PairedWatchroom(Uri Address, string? Certificate, string Device)
{
    /// <summary>Reads it from its file; null when the tablet is not paired.</summary>
    /// <exception cref="FormatException">The file is damaged; the message says what to do.</exception>
    public static PairedWatchroom? Read(string path)
    {
        if (DurableText.Read(path) is not { } text)
        {
            return null;
        }

        try
        {
            return JsonSerializer.Deserialize<PairedWatchroom>(text, UplinkFormat.Json) is { Address: { IsAbsoluteUri: true, Scheme: "https" }, Device.Length: > 0 } paired
                ? paired
                : throw new FormatException(Damaged(path));
        }
        catch (JsonException cause)
        {
            throw new FormatException(Damaged(path), cause);
        }
    }

    private static string Damaged(string path) => $"{path} is damaged. Pair the tablet with its watch room again.";

    /// <summary>Writes it.</summary>
    public void Write(string path) => DurableText.Write(path, JsonSerializer.Serialize(this, UplinkFormat.Json));
}
