namespace Companion.Engine.Ports;

/// <summary>Where fresh codes come from: a cryptographic source on the tablet, a seed in a rehearsal.</summary>
public interface IChance
{
    /// <summary>A number that nobody can foretell.</summary>
    int Draw();
}
