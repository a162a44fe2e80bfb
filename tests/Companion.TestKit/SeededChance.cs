using Companion.Engine.Ports;

namespace Companion.TestKit;

/// <summary>Codes from a seed.</summary>
public sealed class SeededChance(int seed) : IChance
{
    private readonly Random _random = new(seed);

    /// <inheritdoc/>
    public int Draw() => _random.Next();
}
