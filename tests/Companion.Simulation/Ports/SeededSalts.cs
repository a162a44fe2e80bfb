using Companion.Journal;

namespace Companion.Simulation.Ports;

/// <summary>Salts from a seed, so that the same world has the same hashes. For simulated stores only.</summary>
internal sealed class SeededSalts(int seed) : ISaltSource
{
    private readonly Random _random = new(seed);

    /// <inheritdoc/>
    public void Fill(Span<byte> salt) => _random.NextBytes(salt);
}
