using System.Security.Cryptography;
using Companion.Engine.Ports;

namespace Companion.Tablet.Clocks;

/// <summary>Codes that nobody can foretell.</summary>
public sealed class SecretChance : IChance
{
    /// <inheritdoc/>
    public int Draw() => RandomNumberGenerator.GetInt32(int.MaxValue);
}
