using Companion.Domain.Time;
using Companion.Voice.Audio;

namespace Companion.Voice.Detection;

/// <summary>
/// Tells when a sample sounded, from the moments at which frames arrived. Frames may arrive late (a busy machine) but never early, so the
/// earliest arrival of the last two seconds counts. One thread.
/// </summary>
public sealed class SampleClock
{
    private const int FramesKept = 64;
    private const long NanosecondsPerSample = Ticks.PerSecond / AudioFormat.SampleRate;

    private readonly Queue<long> starts = new();
    private Moment last;

    /// <summary>A frame has arrived: so many samples have been taken by this moment.</summary>
    public void Arrived(long position, Moment now)
    {
        if (now.BootId != last.BootId)
        {
            starts.Clear();
        }

        last = now;
        starts.Enqueue(now.Boot.Nanoseconds - (position * NanosecondsPerSample));
        if (starts.Count > FramesKept)
        {
            starts.Dequeue();
        }
    }

    /// <summary>Sound is missing before what comes next: what was learnt does not hold any more.</summary>
    public void Restart() => starts.Clear();

    /// <summary>When a sample sounded.</summary>
    public Moment At(long sample)
    {
        if (starts.Count == 0)
        {
            return last;
        }

        var boot = starts.Min() + (sample * NanosecondsPerSample);
        var ago = last.Boot - new Ticks(boot);
        return new Moment(last.Wall.AddTicks(-ago.Nanoseconds / 100), last.BootId, new Ticks(boot), last.Awake - ago);
    }
}
