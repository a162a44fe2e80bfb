namespace Companion.Voice.Tests.Support;

/// <summary>A sound system and a room for several tests, awake already.</summary>
public sealed class SharedSound : IDisposable
{
    public SharedSound() => Room = new Room(System.Server);

    public SoundSystem System { get; } = new();

    public Room Room { get; }

    public void Dispose()
    {
        Room.Dispose();
        System.Dispose();
    }
}
