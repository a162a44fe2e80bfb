using Companion.Engine.Ports;

namespace Companion.Tablet.Rehearsing;

/// <summary>
/// Codes from a seed: the n-th code of a rehearsal is always the same, however many turns of the loop came before it, so that a
/// recorded voice fits again.
/// </summary>
public sealed class SeededChance(int seed) : IChance
{
    private int _asked;

    /// <inheritdoc/>
    public int Draw() => new Random(unchecked((seed * 7919) + _asked)).Next();

    /// <summary>A code was asked for: the next draw is another one.</summary>
    public void Asked() => _asked++;
}
