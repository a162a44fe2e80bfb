using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Companion.Contracts.Uplink;

/// <summary>How tablet and watch room speak: paths, headers, JSON, and the text that a request's signature covers.</summary>
public static class UplinkFormat
{
    /// <summary>Where every path of a tablet begins.</summary>
    public const string Root = "/uplink";

    /// <summary>POST <see cref="PairingRequest"/>, not signed.</summary>
    public const string PairPath = Root + "/pair";

    /// <summary>POST <see cref="Beat"/>.</summary>
    public const string BeatPath = Root + "/beat";

    /// <summary>POST entries of one chain in order, one export line (RFC 8785, with its `sealed` member where there is one) each, a newline after each.</summary>
    public const string BatchPath = Root + "/batch";

    /// <summary>The device's name.</summary>
    public const string DeviceHeader = "Companion-Device";

    /// <summary>A number that rises with every request of the device on the same path, across restarts of both sides.</summary>
    public const string CounterHeader = "Companion-Counter";

    /// <summary>ECDSA P-256 with SHA-256 over <see cref="SignedText"/>, IEEE P1363, base64.</summary>
    public const string SignatureHeader = "Companion-Signature";

    /// <summary>The format version that both sides must share.</summary>
    public const string VersionHeader = "Companion-Version";

    /// <summary>This version.</summary>
    public const string Version = "1";

    /// <summary>Largest body of a batch in bytes.</summary>
    public const int LargestBatch = 4 << 20;

    /// <summary>Largest body of a beat or a pairing in bytes.</summary>
    public const int LargestBeat = 64 << 10;

    /// <summary>Names in lower case, enumerations by lower-case name.</summary>
    public static readonly JsonSerializerOptions Json = new()
    {
        PropertyNamingPolicy = new LowerCase(),
        Converters = { new JsonStringEnumConverter(new LowerCase(), allowIntegerValues: false) },
        RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true,
    };

    /// <summary>The bytes that the signature covers: method, path, device, counter and the body's SHA-256 in lower-case hex, a newline between.</summary>
    public static byte[] SignedText(string method, string path, string device, string counter, string bodyHash) =>
        Encoding.UTF8.GetBytes($"{method}\n{path}\n{device}\n{counter}\n{bodyHash}");

    private sealed class LowerCase : JsonNamingPolicy
    {
        public override string ConvertName(string name) => name.ToLowerInvariant();
    }
}
