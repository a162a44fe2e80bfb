using System.Security.Cryptography;

namespace Companion.Journal;

/// <summary>Where salts come from: the operating system, or a seed in a simulation. Used by the writer only.</summary>
public interface ISaltSource
{
    /// <summary>Fills a salt.</summary>
    void Fill(Span<byte> salt);
}

/// <summary>Salts from the operating system's generator. Any thread.</summary>
public sealed class RandomSalts : ISaltSource
{
    /// <inheritdoc/>
    public void Fill(Span<byte> salt) => RandomNumberGenerator.Fill(salt);
}
