using Companion.Engine.Ports;

namespace Companion.Tablet.Rehearsing;

/// <summary>Codes from a seed: the same rehearsal asks for the same codes.</summary>
public sealed class SeededChance(int seed) : IChance
{
    private readonly Random _random = new(seed);

    /// <inheritdoc/>
    public int Draw() => _random.Next();
}
