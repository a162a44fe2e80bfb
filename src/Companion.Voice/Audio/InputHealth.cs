namespace Companion.Voice.Audio;

/// <summary>
/// Watches what the microphone gives, frame by frame, for a dead, stuck or overdriven input, which a person would otherwise notice
/// only when nothing answers. One thread.
/// </summary>
public sealed class InputHealth
{
    /// <summary>So long must a fault last to be believed; with one frame's reading it stays under the 2 s a technician may wait.</summary>
    public static readonly TimeSpan FaultAfter = TimeSpan.FromSeconds(1.2);

    /// <summary>So long must an overdriven input be clean again.</summary>
    public static readonly TimeSpan CleanAfter = TimeSpan.FromSeconds(1);

    private const float FullScale = 0.985f;
    private const float OverdrivenShare = 0.15f;

    private TimeSpan flat;
    private TimeSpan overdriven;
    private TimeSpan clean;
    private float last = float.NaN;

    /// <summary>What is wrong, with advice; null when the input is sound.</summary>
    public string? Fault { get; private set; }

    /// <summary>Takes one frame. True when <see cref="Fault"/> changed.</summary>
    public bool Take(ReadOnlySpan<float> frame)
    {
        var before = Fault;
        var length = AudioFormat.Length(frame.Length);
        var constant = IsConstant(frame);
        var clipped = !constant && ShareAtFullScale(frame) > OverdrivenShare;
        flat = constant ? flat + length : TimeSpan.Zero;
        overdriven = clipped ? overdriven + length : overdriven - length < TimeSpan.Zero ? TimeSpan.Zero : overdriven - length;
        clean = clipped || constant ? TimeSpan.Zero : clean + length;
        if (flat >= FaultAfter)
        {
            Fault = last == 0
                ? "The microphone gives no signal at all. Check its plug and its mute switch; answer by button or screen meanwhile."
                : "The microphone is stuck on one value. Unplug it and plug it in again; answer by button or screen meanwhile.";
        }
        else if (overdriven >= FaultAfter)
        {
            Fault = "The microphone is overdriven. Shield it from the wind or move it from your mouth; answer by button or screen meanwhile.";
            overdriven = FaultAfter;
        }
        else if (Fault is not null && !constant && (overdriven == TimeSpan.Zero || clean >= CleanAfter))
        {
            Fault = null;
            overdriven = TimeSpan.Zero;
        }

        return Fault != before;
    }

    /// <summary>Forgets what was seen: the device was opened anew.</summary>
    public void Reset()
    {
        flat = overdriven = clean = TimeSpan.Zero;
        last = float.NaN;
        Fault = null;
    }

    private bool IsConstant(ReadOnlySpan<float> frame)
    {
        var first = frame[0];
        var constant = float.IsNaN(last) || first == last;
        last = frame[^1];
        return constant && frame.IndexOfAnyExcept(first) < 0;
    }

    private static float ShareAtFullScale(ReadOnlySpan<float> frame)
    {
        var count = 0;
        foreach (var sample in frame)
        {
            count += MathF.Abs(sample) >= FullScale ? 1 : 0;
        }

        return (float)count / frame.Length;
    }
}
