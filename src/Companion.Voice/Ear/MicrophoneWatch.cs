using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Voice.Audio;
using Companion.Voice.Detection;

namespace Companion.Voice.Ear;

/// <summary>
/// Tells the engine once when the microphone is lost, hangs, or gives nothing usable, within 2 s, and once when it is back and steady.
/// Safe for many threads.
/// </summary>
public sealed class MicrophoneWatch
{
    /// <summary>Without a frame for so long the microphone hangs.</summary>
    public static readonly Ticks HangsAfter = Ticks.OfMilliseconds(1_200);

    /// <summary>The same before the first frame: a sound system that slept takes up to 2 s to begin (measured).</summary>
    public static readonly Ticks HangsAtFirstAfter = Ticks.OfMilliseconds(3_500);

    private static readonly Ticks BackAfter = Ticks.OfMilliseconds(500);

    private readonly IClock clock;
    private readonly Lock gate = new();
    private readonly InputHealth health = new();
    private readonly SoundFlow flow = new();
    private readonly DevicePresence presence;
    private readonly bool live;
    private bool open;
    private bool began;
    private Moment lastFrame;

    /// <summary>A watch over a microphone that is believed present until it shows otherwise.</summary>
    /// <param name="inbox">Where notices go.</param>
    /// <param name="clock">The clock of the moments of frames.</param>
    /// <param name="live">False for a recording, which has no pace of its own.</param>
    public MicrophoneWatch(IInbox inbox, IClock clock, bool live = true)
    {
        this.live = live;
        this.clock = clock;
        presence = new DevicePresence("microphone", BackAfter, inbox, clock);
        lastFrame = clock.Now();
    }

    /// <summary>The device was opened.</summary>
    public void Opened()
    {
        lock (gate)
        {
            open = true;
            began = false;
            health.Reset();
            flow.Restart();
            lastFrame = clock.Now();
        }
    }

    /// <summary>A frame came.</summary>
    /// <param name="frame">The sound.</param>
    /// <param name="asked">When it was asked for.</param>
    /// <param name="came">When it came.</param>
    /// <returns>True when sound before it is missing.</returns>
    public bool Frame(ReadOnlySpan<float> frame, Moment asked, Moment came)
    {
        lock (gate)
        {
            lastFrame = came;
            began = true;
            health.Take(frame);
            var broken = live && flow.Take(frame.Length, asked, came);
            if ((health.Fault ?? flow.Fault) is { } fault)
            {
                presence.Bad(fault);
            }
            else if (health.IsSuspect)
            {
                presence.Unclear();
            }
            else
            {
                presence.Good();
            }

            return broken;
        }
    }

    /// <summary>The device is gone.</summary>
    public void Lost(string detail)
    {
        lock (gate)
        {
            open = false;
            presence.Bad(detail);
        }
    }

    /// <summary>To be called several times a second from another thread: notices a read that does not return.</summary>
    public void Look()
    {
        var now = clock.Now();
        lock (gate)
        {
            if (open && now.BootId == lastFrame.BootId && now.Boot - lastFrame.Boot > (began ? HangsAfter : HangsAtFirstAfter))
            {
                presence.Bad("The microphone has stopped giving sound. Unplug it and plug it in again; answer by button or screen meanwhile.");
            }
        }
    }

    /// <summary>The source has ended for good: nothing more is expected of it.</summary>
    public void Ended()
    {
        lock (gate)
        {
            open = false;
        }
    }
}
