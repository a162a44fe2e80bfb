using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace Companion.Uplink;

/// <summary>
/// Up to where the watch room holds each chain. Lost or damaged, everything is sent again, which changes nothing over there; the sum before the text
/// notices a changed digit, which would leave entries out. One thread.
/// </summary>
internal sealed class OutboxPositions
{
    private readonly string _path;
    private readonly Dictionary<string, long> _positions;

    public OutboxPositions(string path)
    {
        _path = path;
        _positions = Read(path);
    }

    public long Of(string chain) => _positions.GetValueOrDefault(chain);

    public void Set(string chain, long sequence)
    {
        _positions[chain] = sequence;
        var text = JsonSerializer.Serialize(_positions);
        try
        {
            DurableText.Write(_path, $"{SumOf(text)}\n{text}");
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            // A disk that takes nothing must not slow the sending: after a restart more is sent again than need be, and no more than that.
        }
    }

    private static string SumOf(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    private static Dictionary<string, long> Read(string path)
    {
        try
        {
            return DurableText.Read(path)?.Split('\n', 2) is [var sum, var text] && sum == SumOf(text)
                ? JsonSerializer.Deserialize<Dictionary<string, long>>(text) ?? []
                : [];
        }
        catch (Exception cause) when (cause is JsonException or IOException or UnauthorizedAccessException)
        {
            return [];
        }
    }
}
