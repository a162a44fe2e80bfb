using Companion.Domain.Time;
using Companion.Voice.Audio;

namespace Companion.Voice.Detection;

/// <summary>
/// Compares the sound that came with the time that passed, and so notices sound that went missing on the way (a radio drop-out that the sound
/// system papers over), and a source that runs too slowly or too fast. A busy machine delays frames, which then come all at once: that is
/// told apart. One thread.
/// </summary>
public sealed class SoundFlow
{
    /// <summary>Less sound than this may be missing unnoticed: half of the shortest spoken digit.</summary>
    public static readonly Ticks LeastMissing = Ticks.OfMilliseconds(80);

    /// <summary>So much missing at once, or two smaller breaks within <see cref="Remembered"/>, is a fault.</summary>
    public static readonly Ticks FaultAt = Ticks.OfMilliseconds(250);

    /// <summary>So long is a break remembered.</summary>
    public static readonly Ticks Remembered = Ticks.OfSeconds(3);

    /// <summary>So long without a break, and the flow is sound again.</summary>
    public static readonly Ticks SoundAfter = Ticks.OfMilliseconds(1_500);

    private static readonly Ticks LeastSurplus = Ticks.OfMilliseconds(300);

    // A frame that was there already when it was asked for does not tell when it came.
    private static readonly Ticks LeastWait = Ticks.OfMilliseconds(4);

    private const int FramesKept = 64;
    private const int Recent = 6;
    private const long NanosecondsPerSample = Ticks.PerSecond / AudioFormat.SampleRate;

    private readonly List<(long Nanoseconds, bool WaitedFor)> lags = [];
    private long position;
    private Moment? previousBreak;
    private Moment? lastBreak;

    /// <summary>What is wrong, with advice; null when the sound keeps pace.</summary>
    public string? Fault { get; private set; }

    /// <summary>Takes note of a frame.</summary>
    /// <param name="samples">Its length.</param>
    /// <param name="asked">When it was asked for.</param>
    /// <param name="came">When it came.</param>
    /// <returns>True when sound is missing, or too much of it came, shortly before this frame.</returns>
    public bool Take(int samples, Moment asked, Moment came)
    {
        if (asked.BootId != came.BootId)
        {
            Restart();
        }

        position += samples;
        var waitedFor = came.Boot - asked.Boot >= LeastWait;
        lags.Add((came.Boot.Nanoseconds - (position * NanosecondsPerSample), waitedFor));
        if (lags.Count > FramesKept)
        {
            lags.RemoveAt(0);
        }

        var missing = waitedFor ? Missing() : default;
        var surplus = lags.Count < FramesKept ? default : Surplus();
        var broken = missing >= LeastMissing || surplus >= LeastSurplus;
        if (broken)
        {
            lags.Clear();
            previousBreak = lastBreak;
            lastBreak = came;
        }

        Judge(missing, came);
        return broken;
    }

    /// <summary>The sound begins anew: the device was opened.</summary>
    public void Restart()
    {
        lags.Clear();
        position = 0;
        previousBreak = lastBreak = null;
        Fault = null;
    }

    private static bool IsWithin(Ticks length, Moment? earlier, Moment now) =>
        earlier is { } moment && moment.BootId == now.BootId && now.Boot - moment.Boot <= length;

    private static long Least(IEnumerable<(long Nanoseconds, bool WaitedFor)> some) => some.Min(lag => lag.Nanoseconds);

    private Ticks Missing() => lags.Count <= Recent ? default : new Ticks(Least(lags[^Recent..]) - Least(lags[..^Recent]));

    // Sound that a busy machine takes late comes faster, too, but is not waited for.
    private Ticks Surplus()
    {
        var earlier = lags[..(FramesKept / 2)];
        return earlier.Count(lag => lag.WaitedFor) < earlier.Count / 2
            ? default
            : new Ticks(Least(earlier) - Least(lags[(FramesKept / 2)..]));
    }

    private void Judge(Ticks missing, Moment now)
    {
        if (missing >= FaultAt || (lastBreak == now && IsWithin(Remembered, previousBreak, now)))
        {
            Fault = "The microphone loses sound or runs at a wrong speed. Unplug it and plug it in again; answer by button or screen meanwhile.";
        }
        else if (!IsWithin(SoundAfter, lastBreak, now))
        {
            Fault = null;
        }
    }
}
