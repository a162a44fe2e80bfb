namespace Companion.Engine.Ports;

/// <summary>Listens for what may be said now. What it heard comes back to the engine's inbox as a <see cref="Hearing"/>.</summary>
public interface IEar
{
    /// <summary>From now on these phrases, and no others, may be heard. Replaces the previous set at once.</summary>
    void Listen(ListeningFor phrases);
}
