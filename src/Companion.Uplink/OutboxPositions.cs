using System.Text.Json;

namespace Companion.Uplink;

/// <summary>Up to where the watch room holds each chain. Lost or damaged, everything is sent again, which changes nothing over there. One thread.</summary>
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
        DurableText.Write(_path, JsonSerializer.Serialize(_positions));
    }

    private static Dictionary<string, long> Read(string path)
    {
        try
        {
            return DurableText.Read(path) is { } text ? JsonSerializer.Deserialize<Dictionary<string, long>>(text) ?? [] : [];
        }
        catch (JsonException)
        {
            return [];
        }
    }
}
