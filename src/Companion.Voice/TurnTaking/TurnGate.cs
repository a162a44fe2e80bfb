using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Voice.TurnTaking;

/// <summary>
/// Half-duplex: while the Companion sounds, and a little after, the ear is shut, because its own prompt contains the code. The other way
/// round, a prompt that can wait does so while somebody speaks. Safe for many threads.
/// </summary>
public sealed class TurnGate
{
    /// <summary>The ear stays shut so long after the last sound: the room and the sound buffers ring on (20 to 60 ms measured, the rest is margin).</summary>
    public static readonly Ticks ShutAfterSound = Ticks.OfMilliseconds(200);

    private readonly IClock clock;
    private readonly Lock gate = new();
    private bool sounding;
    private bool speaking;
    private Ticks? opensAt;
    private string bootId = string.Empty;

    /// <summary>An open gate.</summary>
    public TurnGate(IClock clock)
    {
        ArgumentNullException.ThrowIfNull(clock);
        this.clock = clock;
    }

    /// <summary>Whether somebody is speaking, as far as the ear can tell.</summary>
    public bool SomebodySpeaks
    {
        get
        {
            lock (gate)
            {
                return speaking;
            }
        }
    }

    /// <summary>Whether the ear must not listen now.</summary>
    public bool IsShut
    {
        get
        {
            var now = clock.Now();
            lock (gate)
            {
                return sounding || (opensAt is { } opens && now.BootId == bootId && now.Boot < opens);
            }
        }
    }

    /// <summary>The Companion begins to sound.</summary>
    public void Shut()
    {
        lock (gate)
        {
            sounding = true;
            speaking = false;
        }
    }

    /// <summary>The Companion has sounded.</summary>
    public void Release()
    {
        var now = clock.Now();
        lock (gate)
        {
            sounding = false;
            opensAt = now.Boot + ShutAfterSound;
            bootId = now.BootId;
        }
    }

    /// <summary>The ear tells whether somebody speaks.</summary>
    public void Speech(bool now)
    {
        lock (gate)
        {
            speaking = now && !sounding;
        }
    }
}
