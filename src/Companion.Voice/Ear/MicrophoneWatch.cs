using Companion.Domain.Time;
using Companion.Engine.Ports;
using Companion.Voice.Audio;

namespace Companion.Voice.Ear;

/// <summary>
/// Tells the engine once when the microphone is lost, hangs, or gives nothing usable, and once when it is back, each within 2 s.
/// Safe for many threads.
/// </summary>
public sealed class MicrophoneWatch
{
    /// <summary>Without a frame for so long the microphone hangs.</summary>
    public static readonly Ticks HangsAfter = Ticks.OfMilliseconds(1_200);

    /// <summary>The same before the first frame: a sound system that slept takes up to 2 s to begin (measured).</summary>
    public static readonly Ticks HangsAtFirstAfter = Ticks.OfMilliseconds(3_500);

    private const string Device = "microphone";

    private readonly IInbox inbox;
    private readonly IClock clock;
    private readonly Lock gate = new();
    private readonly InputHealth health = new();
    private bool present = true;
    private bool open;
    private bool began;
    private Moment lastFrame;

    /// <summary>A watch over a microphone that is believed present until it shows otherwise.</summary>
    public MicrophoneWatch(IInbox inbox, IClock clock)
    {
        this.inbox = inbox;
        this.clock = clock;
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
            lastFrame = clock.Now();
        }
    }

    /// <summary>A frame came.</summary>
    public void Frame(ReadOnlySpan<float> frame, Moment now)
    {
        lock (gate)
        {
            lastFrame = now;
            began = true;
            health.Take(frame);
            Tell(health.Fault is null, health.Fault ?? "The microphone is back.");
        }
    }

    /// <summary>The device is gone.</summary>
    public void Lost(string detail)
    {
        lock (gate)
        {
            open = false;
            Tell(false, detail);
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
                Tell(false, "The microphone has stopped giving sound. Unplug it and plug it in again; answer by button or screen meanwhile.");
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

    private void Tell(bool there, string detail)
    {
        if (there != present)
        {
            present = there;
            inbox.Post(new DeviceNotice(Device, there, detail));
        }
    }
}
